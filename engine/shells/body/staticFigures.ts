import type { Polygon } from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import { footprintRotation } from "../panelStatic.ts";
import type { BodySystem } from "./bodyModel.ts";
import type { PointRef, Triple } from "./bodySpec.ts";
import { motionsUnder } from "./motionRows.ts";
import { pointRows } from "./pointRows.ts";
import type { BodyStatic } from "./staticSolution.ts";

/** What a maker asks of the body under its strings; all relative to the datum of `bodyStatic`. */
export interface StringLoadFigures {
  /** Of the bridge's footprint about +y, rad: positive towards the nut (tail side up). */
  readonly bridgeRotation: number;
  /** Rise of the point asked for (the middle of the saddle), m along +z. */
  readonly saddleRise: number;
  /** Least and greatest rise of the top's nodes, m, and where (x, y). */
  readonly topLeast: PlacedRise;
  readonly topGreatest: PlacedRise;
  /** Rotation vector of the block named, rad: about x its twist, about y its tilt (positive: its top end moves to the nut). */
  readonly blockRotation: Triple;
  /** Displacement of the nut's middle, m. */
  readonly nut: Triple;
}

interface PlacedRise {
  readonly rise: number;
  readonly x: number;
  readonly y: number;
}

/** Figures of one solution. Fails as `pointRows` does, and with 'no-top'. */
export function stringLoadFigures(
  system: BodySystem,
  { rows, motion }: Pick<BodyStatic, "rows" | "motion">,
  o: {
    readonly footprint: Polygon;
    readonly saddle: { readonly x: number; readonly y: number; readonly height: number };
    readonly nut: Triple;
    readonly block: string;
  },
): Outcome<StringLoadFigures> {
  const { top, topNode } = system.mesh;
  if (top === null) return failed("no-top", "a body without a top carries no bridge");
  const onTop = new Float64Array(6 * topNode.length);
  topNode.forEach((node, k) => {
    onTop.set(motion.subarray(6 * node, 6 * node + 6), 6 * k);
  });
  const box = system.spec.blocks.find((b) => b.name === o.block);
  const asked: PointRef[] = [
    { part: "top", ...o.saddle },
    { part: "neck", at: o.nut },
    { part: "block", name: o.block, at: box?.centre ?? [0, 0, 0] },
  ];
  const found = pointRows(system, asked);
  if (!found.ok) return found;
  const at = motionsUnder(found.value, rows);
  let least = 0;
  let greatest = 0;
  for (let k = 0; k < topNode.length; k++) {
    if (onTop[6 * k + 2] < onTop[6 * least + 2]) least = k;
    if (onTop[6 * k + 2] > onTop[6 * greatest + 2]) greatest = k;
  }
  const placed = (k: number): PlacedRise => ({
    rise: onTop[6 * k + 2],
    x: top.nodes[3 * k],
    y: top.nodes[3 * k + 1],
  });
  return done({
    bridgeRotation: footprintRotation({ mesh: top }, onTop, o.footprint),
    saddleRise: at[2],
    topLeast: placed(least),
    topGreatest: placed(greatest),
    blockRotation: [at[15], at[16], at[17]],
    nut: [at[6], at[7], at[8]],
  });
}
