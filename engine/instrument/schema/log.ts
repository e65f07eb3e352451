import { array, discriminatedUnion, literal, strictObject } from "zod";
import { day, place, plainNumber, quantity, text, word } from "./field.ts";

const buildState = word("State of the build", [
  "free-blank",
  "free-plate",
  "braced-free",
  "braced-on-rim",
  "box-closed",
  "bound-and-sanded",
  "necked",
  "finished",
  "bridged",
  "strung",
  "strung-settled",
]);
const part = word("Which part", [
  "top",
  "back",
  "sides",
  "neck",
  "bridge",
  "brace",
  "whole",
  "bridge-plate",
  "lining",
  "fingerboard",
]);
const when = {
  date: day("Day of the entry"),
  state: buildState,
  note: text("What else was seen", "a faint buzz at the waist").optional(),
};
const piece = { part, which: text("Which brace or board", "long brace A", 80).optional() };

const entry = discriminatedUnion("kind", [
  strictObject({
    kind: literal("weighing"),
    ...when,
    ...piece,
    mass: quantity("mass", "Mass", { most: "20 kg", example: "164 g" }),
  }),
  strictObject({
    kind: literal("size"),
    ...when,
    ...piece,
    length: quantity("length", "Length along the grain", { most: "2 m", example: "540 mm" }),
    width: quantity("length", "Width", { most: "1 m", example: "208 mm" }),
    thickness: quantity("length", "Mean thickness", { most: "60 mm", example: "3.4 mm" }),
  }),
  strictObject({
    kind: literal("bending"),
    ...when,
    ...piece,
    direction: word("Which way the span ran", ["along", "across"]),
    span: quantity("length", "Span between the supports", { most: "2 m", example: "400 mm" }),
    width: quantity("length", "Width of the strip", { most: "1 m", example: "208 mm" }),
    thickness: quantity("length", "Thickness of the strip", { most: "60 mm", example: "3.4 mm" }),
    load: quantity("force", "Load in the middle", { most: "1 kN", example: "5 N" }),
    deflection: quantity("length", "Deflection in the middle", { most: "200 mm", example: "1.62 mm" }),
  }),
  strictObject({
    kind: literal("thickness"),
    ...when,
    ...piece,
    at: place("Where"),
    thickness: quantity("length", "Caliper reading", { most: "60 mm", example: "2.75 mm" }),
  }),
  strictObject({
    kind: literal("humidity"),
    ...when,
    temperature: quantity("temperature", "Air temperature", { example: "21 C" }),
    humidity: quantity("humidity", "Relative humidity", { most: "100 %RH", example: "44 %RH" }),
    moisture: quantity("ratio", "Moisture content of the wood, if measured", {
      most: "60 %",
      example: "7.8 %",
    }).optional(),
  }),
  strictObject({
    kind: literal("knock"),
    ...when,
    ...piece,
    recording: text("File name of the recording", "top-free-03.wav", 200).optional(),
    knockedAt: place("Where it was knocked").optional(),
    heldAt: text("How it was held", "at the nodal line, thumb and finger").optional(),
    modes: array(
      strictObject({
        frequency: quantity("frequency", "Frequency heard or measured", {
          most: "20 kHz",
          example: "182 Hz",
        }),
        q: plainNumber("Quality factor, if measured", { least: 1, most: 2000, example: 55 }).optional(),
        name: text("Which mode it is taken for", "cross dipole", 80).optional(),
      }),
    )
      .max(60)
      .meta({ description: "Modes read from the knock" }),
  }),
  strictObject({ kind: literal("photo"), ...when, file: text("File name", "top-inside.jpg", 200) }),
  strictObject({
    kind: literal("change"),
    ...when,
    ...piece,
    what: text("What was done", "planed 0.5 mm off the treble tone bar"),
  }),
  strictObject({
    kind: literal("remark"),
    ...when,
    words: text("What is to be remembered", "the player came to see the woods"),
  }),
]);

export const log = array(entry).max(5000).meta({ description: "What was measured and done, oldest first" });
