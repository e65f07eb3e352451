import type { Polygon } from "#engine/geometry";
import type { Outcome } from "#engine/numerics";
import type { PanelSystem } from "./panelSystem.ts";

/** A load spread uniformly over a plan polygon: total force (N) and total couple (N m) at the mid-surface. */
export interface PanelLoad {
  readonly polygon: Polygon;
  readonly force: readonly [x: number, y: number, z: number];
  readonly couple: readonly [x: number, y: number, z: number];
}
export interface StaticResult {
  /** 6 by node. */ readonly motion: Float64Array;
  /** 6 by asked point. */ readonly points: Float64Array;
  /** Half the work of the loads, J. */ readonly energy: number;
}
export declare function panelStatic(
  system: PanelSystem,
  loads: readonly PanelLoad[],
  points: readonly (readonly [number, number])[],
): Outcome<StaticResult>;
/** (6p x 6p) static compliance at plan points, edges held: motion row, load column. */
export declare function pointFlexibility(
  system: PanelSystem,
  points: readonly (readonly [number, number])[],
): Outcome<Float64Array>;
