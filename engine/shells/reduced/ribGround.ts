import { distanceToPolyline, type Polyline } from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import type { BodySystem, MotionMap } from "../body/bodyModel.ts";
import { motionsOfNodes } from "../body/motionRows.ts";
import type { Laminate } from "../laminate.ts";
import type { Panel, PanelRib } from "../panel.ts";
import type { ShellMesh } from "../shellMesh.ts";
import { reduciblePlate } from "./bodyChange.ts";
import { cutOut } from "./cutOut.ts";
import type { ReduciblePlate } from "./reducedModel.ts";

/** The part of a plate on which one of its ribs may be laid elsewhere, without that rib. Plain data. */
export interface RibGround {
  /** What of the plate a rib asks for. */
  readonly panel: Pick<Panel, "outline" | "holes" | "thickness" | "dome">;
  /** Triangles about the rib with a numbering of their own; no lines, no ribs. */
  readonly mesh: ShellMesh;
  readonly laminates: readonly Laminate[];
  /** How the six motions of each of its nodes (plate frame) hang on the ground's own rows. */
  readonly motions: MotionMap;
  /** Row of the structure of each of the ground's rows. */
  readonly rows: Uint32Array;
  /** As of `ReduciblePlate`. */
  readonly slope: number;
  /** The rib as it lies, and where its beam's ends join: fractions of its plan length from 0 to 1. */
  readonly rib: PanelRib;
  readonly stations: Float64Array;
  /** Lines of the other ribs, which it may cross. */
  readonly crossing: readonly Polyline[];
}

/**
 * The ground of a rib of the body's top or back, by its name, as far as `reach` (m) to all sides of it. Fails with 'no-such-rib'.
 */
export function ribGround(
  system: BodySystem,
  which: "top" | "back",
  name: string,
  reach: number,
): Outcome<RibGround> {
  const plate = reduciblePlate(system, which, null);
  const rib = plate?.panel.ribs.findIndex((r) => r.name === name) ?? -1;
  if (plate === null || rib < 0) return failed("no-such-rib", `the ${which} has no rib "${name}"`);
  return done(plateGround(plate, rib, reach));
}

/** The same of a plate by itself and its rib's number. */
export function plateGround(plate: ReduciblePlate, rib: number, reach: number): RibGround {
  const { panel, mesh } = plate;
  const own = panel.ribs[rib];
  const near = Uint8Array.from({ length: mesh.nodes.length / 3 }, (_, k) =>
    distanceToPolyline(own.path, mesh.plan.nodes[2 * k], mesh.plan.nodes[2 * k + 1]) <= reach ? 1 : 0,
  );
  const kept: number[] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3)
    if ([0, 1, 2].some((c) => near[mesh.triangles[t + c]] === 1))
      kept.push(...mesh.triangles.subarray(t, t + 3));
  const { part, nodes } = cutOut(mesh, Uint32Array.from(kept));
  const { outline, holes, thickness, dome } = panel;
  const bare = { ...panel, ribs: panel.ribs.filter((_, r) => r !== rib) };
  return {
    panel: { outline, holes, thickness, dome },
    mesh: part,
    laminates: plate.laminates(bare, part),
    ...groundMotions(plate.motions, nodes),
    slope: plate.slope,
    rib: own,
    stations: fractions(mesh, rib),
    crossing: panel.ribs.filter((_, r) => r !== rib).map(({ path }) => path),
  };
}

/** The same motions on rows of their own, counted as they are met. */
function groundMotions(all: MotionMap, nodes: readonly number[]): Pick<RibGround, "motions" | "rows"> {
  const { start, row, weight } = motionsOfNodes(all, nodes);
  const rows = [...new Set(row)];
  const place = new Map(rows.map((own, i) => [own, i]));
  return {
    motions: { start, row: row.map((own) => place.get(own)!), weight },
    rows: Uint32Array.from(rows),
  };
}

/** Where the nodes of a rib's chain lie along it. */
function fractions(mesh: ShellMesh, rib: number): Float64Array {
  const p = mesh.plan.nodes;
  const runs = [0];
  mesh.ribs[rib].forEach((node, k, chain) => {
    if (k === 0) return;
    const last = chain[k - 1];
    runs.push(runs[k - 1] + Math.hypot(p[2 * node] - p[2 * last], p[2 * node + 1] - p[2 * last + 1]));
  });
  return Float64Array.from(runs, (s) => s / runs[runs.length - 1]);
}
