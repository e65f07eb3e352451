import { array, discriminatedUnion, literal, strictObject } from "zod";
import { quantity, text, uncertain, word } from "./field.ts";
import { scale } from "./scale.ts";

const wire = (about: string) =>
  word(about, [
    "steel",
    "phosphor-bronze",
    "bronze-80-20",
    "nickel",
    "nickel-plated-steel",
    "stainless-steel",
  ]);

const gauge = (about: string, example: string) =>
  quantity("length", about, { least: "0.05 mm", most: "3 mm", example });

const construction = discriminatedUnion("kind", [
  strictObject({
    kind: literal("plain"),
    diameter: gauge("Diameter of the wire", "0.012 in"),
    material: wire("What the wire is drawn from"),
  }),
  strictObject({
    kind: literal("wound"),
    core: gauge("Diameter of the core; of a hexagonal core across the flats", "0.016 in"),
    coreShape: word("Section of the core", ["hex", "round"]),
    coreMaterial: wire("What the core is drawn from; steel if not said").optional(),
    wraps: array(
      strictObject({
        diameter: gauge("Diameter of the wrap wire before winding", "0.009 in"),
        material: wire("What the wrap is drawn from"),
      }),
    )
      .min(1)
      .max(3)
      .meta({ description: "Wrap wires, innermost first" }),
  }),
]).meta({ description: "How the string is made" });

function openNote() {
  return text("Open note with its octave: E4, C#3, Bb2", "E4", 6);
}

const oneString = strictObject({
  note: openNote(),
  construction,
  unitWeight: uncertain(
    "linearDensity",
    "Mass per length if weighed or tabulated; otherwise it follows from the wires",
    {
      least: "0.05 g/m",
      most: "60 g/m",
      example: "6.2 g/m",
    },
  ).optional(),
  breakingForce: uncertain("force", "Breaking force if known; otherwise it follows from the core", {
    least: "10 N",
    most: "3000 N",
    example: "290 N",
  }).optional(),
  remark: text("Who made it, what it is sold as", "from a light set").optional(),
});

const spacedBy = (where: string) =>
  word(`What is equal between strings at the ${where}; centres if not said`, ["centres", "gaps"]);

export const strings = strictObject({
  tuningReference: quantity("frequency", "Frequency of A4; 440 Hz if not said", {
    least: "400 Hz",
    most: "480 Hz",
    example: "440 Hz",
  }).optional(),
  set: array(oneString).min(4).max(10).meta({ description: "The strings, string 1 (the highest) first" }),
  tuningName: text("What the set's own notes are called; its notes if not said", "D standard", 80).optional(),
  tunings: array(
    strictObject({
      name: text("What the tuning is called", "open D minor", 80),
      notes: array(openNote()).min(4).max(10).meta({
        description: "Open notes, string 1 (the highest) first, one for each string",
      }),
    }),
  )
    .max(20)
    .meta({ description: "Other tunings of the same strings, beside the set's own notes" })
    .optional(),
  scale,
  spreadAtNut: quantity("length", "Outer string to outer string at the nut, centre to centre", {
    least: "20 mm",
    most: "90 mm",
    example: "37 mm",
  }),
  spreadAtSaddle: quantity("length", "Outer string to outer string at the saddle, centre to centre", {
    least: "30 mm",
    most: "120 mm",
    example: "56 mm",
  }),
  spacing: strictObject({
    nut: spacedBy("nut").optional(),
    saddle: spacedBy("saddle").optional(),
  })
    .meta({ description: "What is equal from string to string: their centres, or the gaps between them" })
    .optional(),
  action: strictObject({
    bass: quantity("length", "Lowest string over the crown of fret 12", {
      least: "0.5 mm",
      most: "8 mm",
      example: "2.4 mm",
    }),
    treble: quantity("length", "Highest string over the crown of fret 12", {
      least: "0.5 mm",
      most: "8 mm",
      example: "1.8 mm",
    }),
  }).meta({ description: "String height over fret 12" }),
  relief: quantity("length", "Hollow of the neck under tension, at its deepest", {
    sign: "not-negative",
    most: "2 mm",
    example: "0.15 mm",
  }),
  pluckPlace: quantity("length", "Where the player plucks, from the saddle", {
    least: "20 mm",
    most: "400 mm",
    example: "120 mm",
  }).optional(),
}).meta({ description: "Strings, scale, spacing and action" });
