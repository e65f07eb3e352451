import { array, strictObject } from "zod";
import { plainNumber, quantity, text } from "./field.ts";

const clearance = (which: string, example: string) =>
  quantity("length", `Underside of the ${which} string over the plane of the fret crowns, at the nut`, {
    sign: "not-negative",
    most: "3 mm",
    example,
  });

export const nut = strictObject({
  material: text("What the nut is", "bone", 80).optional(),
  width: quantity("length", "Size along the string; 5 mm if not said", {
    least: "1 mm",
    most: "15 mm",
    example: "5 mm",
  }).optional(),
  clearance: strictObject({
    bass: clearance("lowest", "0.5 mm"),
    treble: clearance("highest", "0.4 mm"),
  })
    .meta({
      description:
        "Height of the open strings at the nut over the plane of the fret crowns, carried on to the nut; 0.4 mm if not said",
    })
    .optional(),
}).meta({ description: "Nut" });

const pluck = (how: string, example: string) =>
  quantity("length", `Largest displacement at the plucking place in a ${how} pluck; ${example} if not said`, {
    least: "0.05 mm",
    most: "15 mm",
    example,
  }).optional();

export const setup = strictObject({
  pluck: strictObject({
    soft: pluck("soft", "0.7 mm"),
    normal: pluck("normal", "1.5 mm"),
    hard: pluck("hard", "2.5 mm"),
  })
    .meta({ description: "How far the player plucks" })
    .optional(),
  finger: strictObject({
    behind: quantity(
      "length",
      "Middle of the finger behind the crown of the fret, or half way to the next fret back where that is nearer; 12 mm if not said",
      { least: "0.5 mm", most: "60 mm", example: "10 mm" },
    ).optional(),
    depth: quantity(
      "length",
      "How far the finger presses the string below the line of the crowns; 0.2 mm if not said",
      { sign: "not-negative", most: "2 mm", example: "0.2 mm" },
    ).optional(),
  })
    .meta({ description: "How the player's finger presses a string" })
    .optional(),
  measured: array(
    strictObject({
      string: plainNumber("Which string; 1 is the highest", { least: 1, most: 10, whole: true, example: 6 }),
      fret: plainNumber("Which fret; 0 for the open string", {
        least: 0,
        most: 30,
        whole: true,
        example: 12,
      }),
      cents: plainNumber(
        "Cents found, sharp above zero; open and fretted notes alike against the octave harmonic of the open string",
        { least: -100, most: 100, example: 4 },
      ),
      spread: plainNumber("One standard deviation of the reading in cents; 1 if not said", {
        least: 0.05,
        most: 50,
        example: 1,
      }).optional(),
      how: text("How it was measured", "tuner on the head, mean of three, light finger", 300),
    }),
  )
    .max(400)
    .meta({ description: "Cents measured on the strung guitar" })
    .optional(),
  weights: array(plainNumber("How much the fret counts", { least: 0, most: 10, example: 1 }))
    .min(12)
    .max(30)
    .meta({
      description:
        "How much fret 1, 2, 3 ... counts when offsets are chosen; 1 up to fret 12 and 0.5 beyond if not given",
    })
    .optional(),
}).meta({ description: "How it is set up and played" });
