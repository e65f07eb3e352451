import type { Polygon } from "#engine/geometry";
import type { Outcome } from "#engine/numerics";

/** Where a flow comes through a plane: plan places and the part of a unit flow that each carries (sum 1). */
export interface FlowSources {
  readonly points: Float64Array;
  readonly strength: Float64Array;
}
export interface HoleConductance {
  readonly conductance: number;
  readonly pistonConductance: number;
  readonly area: number;
  readonly perimeter: number;
  readonly flow: FlowSources;
}
export declare function holeConductance(polygon: Polygon): Outcome<HoleConductance>;
