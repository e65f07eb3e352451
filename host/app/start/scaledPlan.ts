import type { Json } from "../bench/index.ts";
import { changedLength, mapped } from "./mapped.ts";

/** Places whose lengths are the plan of the box and of what lies on it; thicknesses, heights of braces and fittings are not. */
const ofThePlan = [
  /^outline\.(length|\w+\.(width|station))$/,
  /^cutaway\.(depth|tipSetback|tipRadius|neckOffset|cornerRadius)$/,
  /^soundHole\.(centre|semiAxes)\.\d$/,
  /^(top|back)\.dome\.apex\.\d$/,
  /^(top|back)\.braces\.\d+\.(from|to)\.\d$/,
  /^(top|back)\.patches\.\d+\.shape\.points\.\d+\.\d$/,
  /^(top|back)\.hub\.patch\.shape\.(centre|semiAxes)\.\d$/,
  /^(top|back)\.thickness\.spots\.\d+\.at\.\d$/,
  /^bridgePlate\.shape\.points\.\d+\.\d$/,
  /^rods\.\d+\.(from|to)\.(at\.\d|depth)$/,
  /^sides\.depthAt(Tail|Neck)$/,
  /^blocks\.(neck|tail)\.height$/,
  /^strings\.scale\.(length|bass|treble)$/,
  /^neck\.(centreFromBody|rods\.\d+\.length)$/,
];

/** The whole plan in proportion, scale length with it, so that bridge, braces and hole keep their places in the body. */
export function scaledPlan(document: Json, factor: number): Json {
  if (factor === 1) return document;
  return mapped(document, (leaf, path) =>
    ofThePlan.some((place) => place.test(path)) ? changedLength(leaf, (x) => factor * x, 0.1) : leaf,
  );
}
