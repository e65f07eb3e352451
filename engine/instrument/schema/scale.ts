import { discriminatedUnion, literal, strictObject, union } from "zod";
import { plainNumber, quantity, word } from "./field.ts";

export const scale = discriminatedUnion("kind", [
  strictObject({
    kind: literal("parallel"),
    length: quantity("length", "Nut to saddle before compensation", {
      least: "300 mm",
      most: "1000 mm",
      example: "647.7 mm",
    }),
  }),
  strictObject({
    kind: literal("skewed"),
    bass: quantity("length", "Nut to saddle along the lowest string", {
      least: "300 mm",
      most: "1000 mm",
      example: "672 mm",
    }),
    treble: quantity("length", "Nut to saddle along the highest string", {
      least: "300 mm",
      most: "1000 mm",
      example: "652 mm",
    }),
    squareFret: union([
      plainNumber(
        "The fret that stands square to the centreline: any number, 0 is the nut, below it beyond the nut",
        { least: -24, most: 120, example: 7 },
      ),
      word("Nut or bridge stand square", ["nut", "bridge"]),
    ]).meta({
      description:
        'The fret that stands square to the centreline: any number (fractions too; 0 is the nut, negative beyond it), or "nut" or "bridge"',
      examples: [7],
    }),
  }),
]).meta({ description: "Scale length: one for all strings, or skewed" });
