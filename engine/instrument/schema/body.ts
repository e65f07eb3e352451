import { array, discriminatedUnion, literal, strictObject, tuple } from "zod";
import { place, quantity, text, uncertain, word } from "./field.ts";
import { wood } from "./wood.ts";

const widthAt = (words: string, width: string, station: string) =>
  strictObject({
    width: quantity("length", `Full width of the ${words}`, {
      least: "100 mm",
      most: "700 mm",
      example: width,
    }),
    station: quantity("length", `Distance of the ${words} from the tail along the centreline`, {
      least: "20 mm",
      most: "800 mm",
      example: station,
    }),
  });

const shift = strictObject({
  along: quantity("length", "Shift towards the neck", {
    sign: "any",
    least: "-80 mm",
    most: "80 mm",
    example: "8 mm",
  }).optional(),
  outward: quantity("length", "Shift outward", {
    sign: "any",
    least: "-60 mm",
    most: "60 mm",
    example: "5 mm",
  }).optional(),
});
const sideShift = strictObject({
  lowerBout: shift.optional(),
  waist: shift.optional(),
  upperBout: shift.optional(),
});
const radius = (about: string, example: string) =>
  quantity("length", about, { least: "5 mm", most: "3 m", example });

export const outline = discriminatedUnion("kind", [
  strictObject({
    kind: literal("dimensions"),
    length: quantity("length", "Body length on the centreline", {
      least: "250 mm",
      most: "800 mm",
      example: "505 mm",
    }),
    lowerBout: widthAt("lower bout", "398 mm", "148 mm"),
    waist: widthAt("waist", "255 mm", "315 mm"),
    upperBout: widthAt("upper bout", "292 mm", "410 mm"),
    tailRadius: radius(
      "Radius of the outline at the tail; as the fairest curve falls if not given",
      "420 mm",
    ).optional(),
    neckRadius: radius(
      "Radius of the outline at the neck end; as the fairest curve falls if not given",
      "200 mm",
    ).optional(),
    asymmetry: strictObject({ bass: sideShift.optional(), treble: sideShift.optional() })
      .meta({ description: "How one side departs from the symmetric shape" })
      .optional(),
  }),
  strictObject({
    kind: literal("points"),
    points: array(place("A point of the outline")).min(6).max(2000).meta({
      description: "Points round the outline, in order, the first not repeated; the tail at [0 mm, 0 mm]",
    }),
  }),
]).meta({ description: "Body shape in plan" });

export const cutaway = strictObject({
  side: word("Which side is cut away", ["treble", "bass"]),
  depth: quantity("length", "Deepest place of the scoop, from the neck end towards the tail", {
    least: "10 mm",
    most: "200 mm",
    example: "70 mm",
  }),
  tipSetback: quantity("length", "Foremost place of the horn, from the neck end towards the tail", {
    sign: "not-negative",
    most: "150 mm",
    example: "18 mm",
  }),
  tipRadius: quantity("length", "Smallest radius at the horn's tip", {
    least: "3 mm",
    most: "100 mm",
    example: "22 mm",
  }),
  neckOffset: quantity("length", "From the centreline to where the edge meets the neck line", {
    least: "10 mm",
    most: "80 mm",
    example: "32 mm",
  }),
  neckAngle: quantity("angle", "Least angle between edge and centreline beside the neck; 0 deg if not said", {
    sign: "not-negative",
    most: "60 deg",
    example: "15 deg",
  }).optional(),
  cornerRadius: quantity("length", "Radius of the rounded corner on the neck line", {
    least: "1 mm",
    most: "60 mm",
    example: "6 mm",
  }),
  scoopRadius: quantity(
    "length",
    "Tightest radius inside the scoop; as the fairest edge falls if not given",
    { least: "5 mm", most: "200 mm", example: "35 mm" },
  ).optional(),
}).meta({ description: "Cutaway with a spiral edge" });

export const soundHole = discriminatedUnion("kind", [
  strictObject({
    kind: literal("ellipse"),
    centre: place("Centre of the hole"),
    semiAxes: tuplePair("Half lengths of the two axes; equal for a circle"),
    angle: quantity(
      "angle",
      "From the centreline to the first axis, anticlockwise seen from the front; 0 deg if not said",
      { sign: "any", example: "30 deg" },
    ).optional(),
    lip: lip().optional(),
  }),
  strictObject({
    kind: literal("curve"),
    points: array(place("A point of the hole's edge")).min(6).max(500).meta({
      description:
        "Points round the hole, in order, the first not repeated; a fair closed curve runs through them",
    }),
    lip: lip().optional(),
  }),
]).meta({ description: "Sound hole: any closed curve; it may meet or cross the body's edge" });

function tuplePair(about: string) {
  const half = quantity("length", "Half length", { least: "5 mm", most: "200 mm", example: "50 mm" });
  return tuple([half, half]).meta({ description: about, examples: [["50 mm", "50 mm"]] });
}

function lip() {
  return strictObject({
    thickness: quantity("length", "Thickness of the top at the hole's edge, with what is glued there", {
      least: "1 mm",
      most: "15 mm",
      example: "4 mm",
    }),
    swell: quantity("length", "Thickest place of the lip, if it swells", {
      least: "1 mm",
      most: "15 mm",
      example: "6 mm",
    }).optional(),
    chamfer: quantity("length", "Chamfer of the edge", {
      sign: "not-negative",
      most: "5 mm",
      example: "0.5 mm",
    }).optional(),
    strips: text(
      "Strips, joints and how they are bent",
      "three strips of maple 0.6 mm, scarfed at the waist side",
    ).optional(),
    wood: wood.optional(),
  }).meta({ description: "Edge of the sound hole" });
}

const lining = strictObject({
  kind: word("What the lining is", ["kerfed", "solid", "laminated"]),
  wood,
  width: quantity("length", "Glue land on the plate, without the side", {
    least: "2 mm",
    most: "20 mm",
    example: "6.5 mm",
  }),
  height: quantity("length", "Height on the side", { least: "4 mm", most: "40 mm", example: "16 mm" }),
});

export const sides = strictObject({
  wood,
  thickness: uncertain("length", "Thickness of the finished side", {
    least: "0.8 mm",
    most: "8 mm",
    example: "2.0 mm",
  }),
  plies: array(
    strictObject({
      wood,
      thickness: quantity("length", "Thickness of the ply", {
        least: "0.3 mm",
        most: "4 mm",
        example: "0.8 mm",
      }),
    }),
  )
    .max(9)
    .meta({ description: "Plies of a laminated side, outside first; leave out for a solid side" })
    .optional(),
  depthAtTail: quantity("length", "Between the inner faces of top and back at the tail", {
    least: "40 mm",
    most: "200 mm",
    example: "115 mm",
  }),
  depthAtNeck: quantity("length", "Between the inner faces of top and back at the neck end", {
    least: "40 mm",
    most: "200 mm",
    example: "95 mm",
  }),
  topLining: lining.meta({ description: "Lining under the top" }),
  backLining: lining.meta({ description: "Lining on the back" }),
  bevel: strictObject({
    where: text("Where the edge is bevelled", "lower bout, bass side", 200),
    width: quantity("length", "Width of the bevel on the top", {
      least: "2 mm",
      most: "80 mm",
      example: "30 mm",
    }),
    depth: quantity("length", "Depth of the bevel on the side", {
      least: "2 mm",
      most: "80 mm",
      example: "22 mm",
    }),
  }).optional(),
}).meta({ description: "Sides with their linings" });

const blockSize = (along: string, across: string) => ({
  wood,
  along: quantity("length", "Size along the centreline", { least: "5 mm", most: "150 mm", example: along }),
  across: quantity("length", "Size across", { least: "10 mm", most: "250 mm", example: across }),
  height: quantity("length", "Height between top and back", {
    least: "10 mm",
    most: "200 mm",
    example: "95 mm",
  }),
});

export const blocks = strictObject({
  neck: strictObject(blockSize("45 mm", "75 mm")).meta({ description: "Block at the neck end" }),
  tail: strictObject(blockSize("20 mm", "80 mm")).meta({ description: "Block at the tail" }),
  others: array(
    strictObject({
      name: text("Which block", "block under the bevel", 80),
      centre: place("Centre of the block"),
      ...blockSize("60 mm", "20 mm"),
    }),
  )
    .max(20)
    .meta({ description: "Further blocks" })
    .optional(),
}).meta({ description: "Blocks" });

const spot = (about: string) =>
  strictObject({
    at: place(about),
    depth: quantity("length", "Below the plane of the top's edge", {
      sign: "not-negative",
      most: "200 mm",
      example: "20 mm",
    }),
  });

export const rods = array(
  strictObject({
    name: text("Which rod", "bass side flying rod", 80),
    from: spot("Where the rod starts"),
    to: spot("Where the rod ends"),
    diameter: quantity("length", "Outside diameter", { least: "2 mm", most: "30 mm", example: "8 mm" }),
    bore: quantity("length", "Bore of a tube; 0 mm for a solid rod", {
      sign: "not-negative",
      most: "28 mm",
      example: "6 mm",
    }),
    material: word("What the rod is", ["carbon", "steel", "wood"]),
    stiffness: uncertain("stress", "Young's modulus along the rod", {
      least: "5 GPa",
      most: "400 GPa",
      example: "120 GPa",
    }),
    density: quantity("density", "Density", {
      least: "300 kg/m3",
      most: "9000 kg/m3",
      example: "1550 kg/m3",
    }),
  }),
)
  .max(20)
  .meta({ description: "Rods inside the body, that hold the neck block" });
