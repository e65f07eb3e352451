import { array, discriminatedUnion, literal, strictObject, tuple, union } from "zod";
import { place, plainNumber, quantity, text, uncertainForms, word } from "./field.ts";
import { wood } from "./wood.ts";

/** More braces than this on one plate are a mistake in the file, not a design. */
export const mostBraces = 200;

const along = (about: string, example: string) =>
  quantity("length", about, { sign: "not-negative", most: "1 m", example });
const height = (about: string, example: string) =>
  quantity("length", about, { sign: "not-negative", most: "60 mm", example });
const ends = (about: string, pair: ReturnType<typeof along>, example: readonly [string, string]) =>
  tuple([pair, pair]).meta({ description: `${about}: [at the start, at the end]`, examples: [[...example]] });

const profile = discriminatedUnion("kind", [
  strictObject({ kind: literal("uniform") }),
  strictObject({
    kind: literal("points"),
    heights: array(
      tuple([along("Distance along the brace from its start", "120 mm"), height("Height there", "14 mm")]),
    )
      .min(2)
      .max(100)
      .meta({ description: "[distance from the start, height], straight between, distances rising" }),
  }),
  strictObject({
    kind: literal("tapered"),
    tipHeight: ends("Height at the tips", height("Height at the tip", "2 mm"), ["2 mm", "2 mm"]),
    tipLength: ends("Length of the scooped ends", along("Length of the scooped end", "50 mm"), [
      "50 mm",
      "50 mm",
    ]),
  }),
  strictObject({
    kind: literal("scalloped"),
    tipHeight: ends("Height at the tips", height("Height at the tip", "2 mm"), ["2 mm", "2 mm"]),
    tipLength: ends("Length of the scooped ends", along("Length of the scooped end", "50 mm"), [
      "50 mm",
      "50 mm",
    ]),
    valleyAt: along("Lowest place of the valley, from the start", "180 mm"),
    valleyHeight: height("Height in the valley", "8 mm"),
    valleyLength: along("Length of the valley", "120 mm"),
  }),
]).meta({ description: "How the height runs along the brace; distances from its start" });

const section = discriminatedUnion("kind", [
  strictObject({ kind: literal("rectangular") }),
  strictObject({
    kind: literal("triangular"),
    wall: plainNumber("Height of the upright walls over the full height", {
      least: 0,
      most: 1,
      example: 0.5,
    }),
  }),
  strictObject({
    kind: literal("parabolic"),
    wall: plainNumber("Height of the upright walls over the full height", {
      least: 0,
      most: 1,
      example: 0.5,
    }),
  }),
]).meta({ description: "Section of the brace" });

const endDetail = word("How the end is held", ["let-in", "butted", "stopped", "hub", "butted-to-brace"]);

export const brace = strictObject({
  name: text("Name of the brace; no two on one plate alike", "long brace, bass to treble", 80),
  wood,
  from: place("Start of the centre line"),
  to: place("End of the centre line"),
  inset: quantity("length", "Stops this far short of the plate's edge where the edge cuts it", {
    sign: "not-negative",
    most: "60 mm",
    example: "0 mm",
  }).optional(),
  width: quantity("length", "Width of the glue face", { least: "2 mm", most: "60 mm", example: "8 mm" }),
  height: quantity("length", "Full height over the plate", {
    least: "1 mm",
    most: "60 mm",
    example: "15 mm",
  }),
  section,
  profile,
  ends: tuple([endDetail, endDetail]).meta({
    description: "End detail: [at the start, at the end]",
    examples: [["let-in", "let-in"]],
  }),
}).meta({ id: "brace", description: "One straight brace on the inside of a plate" });

const crossing = strictObject({
  braces: tuple([
    text("Name of one brace", "long brace A", 80),
    text("Name of the other", "long brace B", 80),
  ]).meta({ description: "The two braces that cross" }),
  joint: word("How they share the place", ["lapped", "capped", "through"]),
});

export const patch = strictObject({
  name: text("Which patch", "hub patch", 80),
  wood,
  thickness: quantity("length", "Thickness", { least: "0.3 mm", most: "15 mm", example: "2.5 mm" }),
  grainAngle: quantity("angle", "Grain, from the centreline anticlockwise seen from the front", {
    sign: "any",
    example: "90 deg",
  }),
  shape: discriminatedUnion("kind", [
    strictObject({
      kind: literal("ellipse"),
      centre: place("Centre"),
      semiAxes: tuple([
        quantity("length", "Half length along the first axis", {
          least: "5 mm",
          most: "300 mm",
          example: "45 mm",
        }),
        quantity("length", "Half length along the second axis", {
          least: "5 mm",
          most: "300 mm",
          example: "60 mm",
        }),
      ]).meta({ description: "Half lengths of the two axes", examples: [["45 mm", "60 mm"]] }),
      angle: quantity("angle", "From the centreline to the first axis; 0 deg if not said", {
        sign: "any",
        example: "0 deg",
      }).optional(),
    }),
    strictObject({
      kind: literal("polygon"),
      points: array(place("A corner")).min(3).max(60).meta({ description: "Corners, in order" }),
    }),
  ]).meta({ description: "Shape in plan" }),
}).meta({ id: "patch", description: "A flat piece glued to the inside of a plate" });

const hub = strictObject({
  kind: word("What the braces meet at", ["patch", "block"]),
  patch,
  joint: text("How the braces are joined to it", "each brace let 2 mm into the block and capped"),
  braces: array(text("Name of a brace", "ray 1", 80))
    .min(2)
    .max(40)
    .meta({ description: "Braces that end at the hub" }),
}).meta({ description: "Hub: where radiating braces meet without running into one point" });

const thickness = union([
  ...uncertainForms("length", "Thickness of the whole plate", {
    least: "0.5 mm",
    most: "15 mm",
    example: "2.8 mm",
  }),
  strictObject({
    spots: array(
      strictObject({
        at: place("Where it was measured"),
        thickness: quantity("length", "Caliper reading", {
          least: "0.5 mm",
          most: "15 mm",
          example: "2.8 mm",
        }),
      }),
    )
      .min(3)
      .max(100)
      .meta({ description: "Caliper spots; in between, blended by inverse square distance" }),
    how: word("Whence the readings come", ["measured", "catalogue", "assumed"]),
    spread: quantity("length", "One standard deviation of a reading", { most: "2 mm", example: "0.05 mm" }),
  }),
]).meta({
  description: "Thickness of the plate: one length with its unit, or a map of caliper spots",
  examples: ["2.8 mm"],
});

export const plate = strictObject({
  wood,
  thickness,
  grainAngle: quantity(
    "angle",
    "Grain, from the centreline anticlockwise seen from the front; 0 deg if not said",
    { sign: "any", example: "0 deg" },
  ).optional(),
  dome: strictObject({
    radius: quantity("length", "Radius of the dish", { least: "1 m", most: "60 m", example: "9 m" }),
    apex: place("Highest place of the dome"),
  })
    .meta({ description: "Dome; leave out for a flat plate" })
    .optional(),
  join: text("How the halves are joined", "book-matched, hide glue", 200).optional(),
  braces: array(brace)
    .max(mostBraces)
    .meta({ description: `Braces on the inside, at most ${mostBraces}` }),
  crossings: array(crossing)
    .max(200)
    .meta({ description: "How braces that cross share the place" })
    .optional(),
  hub: hub.optional(),
  patches: array(patch)
    .max(40)
    .meta({ description: "Other patches on the inside (bridge plate apart)" })
    .optional(),
}).meta({ id: "plate", description: "A plate (top or back) with its braces" });
