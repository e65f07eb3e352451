import type { AirProperties } from "./airProperties.ts";
import type { FlowSources } from "./holeConductance.ts";

export interface MovingSurface {
  readonly nodes: Float64Array;
  readonly triangles: Uint32Array;
  readonly count: number;
  /** count x nodes: outward motion. */ readonly motion: Float64Array;
}
export declare function outerAirMass(
  surface: MovingSurface,
  hole: FlowSources | null,
  air: AirProperties,
): Float64Array;
