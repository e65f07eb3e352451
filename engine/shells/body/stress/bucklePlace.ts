import type { BodySystem } from "../bodyModel.ts";
import { motionsUnder } from "../motionRows.ts";

/** Where a shape moves most: part, plan place, and the unit vector of its motion there. */
export interface BucklePlace {
  readonly part: "top" | "back" | "sides" | "neck or rods";
  readonly x: number;
  readonly y: number;
  /** Motion there, greatest of the shape set to 1. */
  readonly along: readonly [number, number, number];
}

/** Place of the greatest translation of a shape (unknowns by row, as `bodyBuckling` gives them). */
export function bucklePlace({ layout, mesh }: BodySystem, shape: Float64Array): BucklePlace {
  const motion = motionsUnder(layout.map, shape);
  const nodes = layout.places.length / 3;
  let most = 0;
  let size = 0;
  for (let k = 0; k < nodes; k++) {
    const moved = Math.hypot(motion[6 * k], motion[6 * k + 1], motion[6 * k + 2]);
    if (moved > size) {
      size = moved;
      most = k;
    }
  }
  const { triangles, part } = mesh.surface;
  const shell = most < layout.shellNodes;
  const names = ["top", "back", "sides"] as const;
  return {
    part: shell ? names[part[Math.floor(triangles.indexOf(most) / 3)]] : "neck or rods",
    x: layout.places[3 * most],
    y: layout.places[3 * most + 1],
    along: [motion[6 * most] / size, motion[6 * most + 1] / size, motion[6 * most + 2] / size],
  };
}
