import { strictObject } from "zod";
import { quantity, text, uncertain, word } from "./field.ts";
import { patch } from "./plate.ts";
import { wood } from "./wood.ts";

const size = (about: string, least: string, most: string, example: string) =>
  quantity("length", about, { least, most, example });

export const bridge = strictObject({
  wood,
  length: size("Size across the body, square to the saddle's mid line", "60 mm", "260 mm", "155 mm"),
  width: size("Size along the body", "12 mm", "90 mm", "29 mm"),
  saddleFromFront: size("From the front edge (neck side) to the saddle line", "2 mm", "50 mm", "9 mm"),
  thickness: size("Thickness at the saddle", "3 mm", "20 mm", "9 mm"),
  wings: strictObject({
    length: size("Length of each wing, from the tip inward", "5 mm", "100 mm", "38 mm"),
    thickness: size("Mean thickness of a wing", "1 mm", "20 mm", "4 mm"),
  })
    .meta({ description: "Thinner ends; leave out for a bridge of one thickness" })
    .optional(),
  mass: uncertain("mass", "Mass of the finished bridge without saddle and pins, if weighed", {
    least: "3 g",
    most: "120 g",
    example: "26 g",
  }).optional(),
  hardwareMass: quantity("mass", "Saddle, pins and what else sits on the bridge", {
    sign: "not-negative",
    most: "80 g",
    example: "9 g",
  }),
  anchor: word("How strings are held", ["pins", "through", "tie", "tail"]),
  anchorBehind: size(
    "From the saddle line back to where the strings leave the bridge's upper face; 12 mm, or half of what is there, if not said",
    "2 mm",
    "60 mm",
    "12 mm",
  ).optional(),
  glue: word("Glue under the bridge; as the glues say, else hide glue, if not said", [
    "hide",
    "fish",
    "aliphatic",
    "pva",
    "epoxy",
  ]).optional(),
  glueLand: quantity(
    "ratio",
    "Share of the footprint that is glued wood on wood; all but a rim of 1 mm where the top is finished if not said",
    { least: "10 %", most: "100 %", example: "96 %" },
  ).optional(),
}).meta({ description: "Bridge; its place follows from the scale and the joining fret" });

export const bridgePlate = patch.meta({
  description: "Plate under the bridge, on the inside; leave out if a hub takes its place",
});

export const saddle = strictObject({
  material: text("What the saddle is", "bone", 80),
  heightBass: size("Lowest string over the top's outside face, at the saddle", "4 mm", "40 mm", "13 mm"),
  heightTreble: size("Highest string over the top's outside face, at the saddle", "4 mm", "40 mm", "12 mm"),
  width: size("Width of the slot", "1 mm", "8 mm", "3 mm"),
  slotDepth: size("Depth of the slot in the bridge", "1 mm", "18 mm", "6 mm"),
}).meta({ description: "Saddle" });
