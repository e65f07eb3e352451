import { array, discriminatedUnion, literal, strictObject, tuple } from "zod";
import { plainNumber, quantity, text, uncertain, word } from "./field.ts";
import { wood } from "./wood.ts";

const post = tuple([
  quantity("length", "From the nut line along the head", {
    least: "5 mm",
    most: "300 mm",
    example: "62 mm",
  }),
  quantity("length", "From the centreline, towards the bass side", {
    sign: "any",
    least: "-80 mm",
    most: "80 mm",
    example: "-24 mm",
  }),
]).meta({
  description: "Where a string meets its post: [along the head from the nut line, towards the bass side]",
  examples: [["62 mm", "-24 mm"]],
});

export const neck = strictObject({
  joint: word("How the neck is joined to the body", [
    "bolted",
    "dovetail",
    "mortise",
    "heel-built-in",
    "hinged",
    "adjustable",
  ]),
  jointNote: text("What a reader should know of the joint", "bolt-on tenon with two M6 bolts").optional(),
  joinFret: plainNumber("The fret at the body's edge (on the centreline)", {
    least: 8,
    most: 20,
    example: 14,
  }),
  pitch: quantity("angle", "Tilt of the neck back from the plane of the top's edge", {
    sign: "any",
    least: "-2 deg",
    most: "6 deg",
    example: "1.2 deg",
  }),
  wood,
  mass: uncertain("mass", "Neck with head, fingerboard and frets, without tuners", {
    least: "200 g",
    most: "2500 g",
    example: "680 g",
  }),
  centreFromBody: quantity("length", "Centre of mass of the neck, from the body's edge towards the nut", {
    least: "50 mm",
    most: "500 mm",
    example: "230 mm",
  }),
  thickness: strictObject({
    first: quantity("length", "Depth with fingerboard at fret 1", {
      least: "12 mm",
      most: "40 mm",
      example: "21 mm",
    }),
    ninth: quantity("length", "Depth with fingerboard at fret 9", {
      least: "12 mm",
      most: "45 mm",
      example: "23 mm",
    }),
  }).meta({ description: "Depth of the neck" }),
  profile: text("Shape of the back of the neck", "soft C", 200).optional(),
  head: strictObject({
    angle: quantity("angle", "Head back from the neck", {
      sign: "not-negative",
      most: "25 deg",
      example: "13 deg",
    }),
    thickness: quantity("length", "Thickness of the head", {
      least: "8 mm",
      most: "25 mm",
      example: "15 mm",
    }),
    length: quantity("length", "Length of the head", { least: "50 mm", most: "300 mm", example: "185 mm" }),
    stringPath: text("How the strings run from nut to posts", "straight", 200).optional(),
    inlay: strictObject({
      depth: quantity("length", "Depth of its pocket from the face", {
        least: "0.2 mm",
        most: "25 mm",
        example: "1.6 mm",
      }),
    })
      .meta({ description: "Inlay in the face of the head" })
      .optional(),
    faceVeneer: quantity("length", "Thickness of the veneer on the face, within the head's thickness", {
      sign: "not-negative",
      most: "6 mm",
      example: "1.5 mm",
    }).optional(),
    posts: array(post)
      .min(4)
      .max(10)
      .meta({
        description:
          "Where each string meets its post, string 1 first; in pairs up the head, straight on from the nut, if not given",
      })
      .optional(),
  }).optional(),
  rods: array(
    strictObject({
      kind: word("What the rod is", ["adjustable", "carbon", "steel"]),
      width: quantity("length", "Width of the rod", { least: "2 mm", most: "20 mm", example: "6 mm" }),
      height: quantity("length", "Height of the rod", { least: "2 mm", most: "20 mm", example: "9 mm" }),
      length: quantity("length", "Length of the rod", { least: "100 mm", most: "700 mm", example: "420 mm" }),
      axisDepth: quantity(
        "length",
        "Middle of the rod under the underside of the board; half its height (flush with the board) if not said",
        { least: "1 mm", most: "25 mm", example: "5 mm" },
      ).optional(),
      tension: quantity("force", "Force in an adjustable rod when it is tight", {
        least: "10 N",
        most: "10 kN",
        example: "1200 N",
      }).optional(),
    }),
  )
    .max(6)
    .meta({ description: "Rods in the neck" }),
}).meta({ description: "Neck and its joint" });

export const fingerboard = strictObject({
  wood,
  frets: plainNumber("Number of frets", { least: 12, most: 30, whole: true, example: 20 }),
  widthAtNut: quantity("length", "Width at the nut", { least: "30 mm", most: "110 mm", example: "44.5 mm" }),
  widthAtEnd: quantity("length", "Width at the last fret", {
    least: "35 mm",
    most: "120 mm",
    example: "57 mm",
  }),
  thickness: quantity("length", "Thickness on the centreline", {
    least: "2 mm",
    most: "15 mm",
    example: "6 mm",
  }),
  radius: discriminatedUnion("kind", [
    strictObject({ kind: literal("flat") }),
    strictObject({
      kind: literal("compound"),
      nut: quantity("length", "Cross radius at the nut", { least: "100 mm", most: "3 m", example: "305 mm" }),
      end: quantity("length", "Cross radius at the last fret", {
        least: "100 mm",
        most: "3 m",
        example: "406 mm",
      }),
    }),
  ]).meta({ description: "Cross curvature of the board" }),
  heightOverTop: quantity(
    "length",
    "Underside of the board over the top's outside face, at the body's edge (0 mm: it lies on the top)",
    { sign: "not-negative", most: "40 mm", example: "0 mm" },
  ),
  overTop: word("What the board does over the body", ["glued", "clear"]),
  fretHeight: quantity("length", "Crown of the frets over the board", {
    least: "0.4 mm",
    most: "2 mm",
    example: "1.1 mm",
  }),
  fretWidth: quantity("length", "Width of the fret's bead", {
    least: "1 mm",
    most: "4 mm",
    example: "2.2 mm",
  }).optional(),
  fallAway: strictObject({
    fromFret: plainNumber("The fret beyond which the board falls away, straight", {
      least: 1,
      most: 30,
      example: 14,
    }),
    depth: quantity("length", "How far it has fallen at the board's end", {
      least: "0.02 mm",
      most: "5 mm",
      example: "0.4 mm",
    }),
  })
    .meta({ description: "Fall-away at the end of the board; none if not given" })
    .optional(),
  slot: strictObject({
    width: quantity("length", "Width of the saw's cut; 0.58 mm if not said", {
      least: "0.3 mm",
      most: "1.5 mm",
      example: "0.58 mm",
    }).optional(),
    depth: quantity("length", "Depth under the board's face; the tang and 0.5 mm if not said", {
      least: "0.5 mm",
      most: "8 mm",
      example: "2.1 mm",
    }).optional(),
    tangWidth: quantity("length", "Width of the fret's tang without its barbs; 0.53 mm if not said", {
      least: "0.2 mm",
      most: "1.5 mm",
      example: "0.53 mm",
    }).optional(),
    tangDepth: quantity("length", "Depth of the fret's tang; 1.6 mm if not said", {
      least: "0.3 mm",
      most: "5 mm",
      example: "1.6 mm",
    }).optional(),
    nip: quantity("length", "How much the tang is cut short at each end; 0 mm if not said", {
      sign: "not-negative",
      most: "8 mm",
      example: "1.5 mm",
    }).optional(),
    overhang: quantity(
      "length",
      "Fret beyond the board's edge at each end, below zero short of it; 0 mm if not said",
      { sign: "any", least: "-6 mm", most: "3 mm", example: "0 mm" },
    ).optional(),
  })
    .meta({ description: "Fret slots and how the frets sit in them" })
    .optional(),
  centsTable: array(plainNumber("Cents above the open string", { least: 0, most: 4800, example: 100 }))
    .min(12)
    .max(30)
    .meta({ description: "Cents above the open string for fret 1, 2, 3 ...; equal temperament if not given" })
    .optional(),
}).meta({ description: "Fingerboard and frets" });
