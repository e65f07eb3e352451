import type { Polygon } from "#engine/geometry";
import type { Outcome } from "#engine/numerics";
import type { AirProperties } from "./airProperties.ts";
import type { FlowSources } from "./holeConductance.ts";

export interface HoleFlowInput {
  /** Part of the hole inside the body's outline. */ readonly polygon: Polygon;
  readonly wallThickness: number;
  /** Body outline: how far the flange reaches; null: an endless flange. */ readonly outline: Polygon | null;
  /** m2 of opening in the scooped side where the hole breaks the edge; 0 if it does not. */ readonly scoopArea: number;
  readonly air: AirProperties;
}
export interface HoleFlow {
  readonly area: number;
  readonly conductance: number;
  /** kg/m4: pressure over volume acceleration, both ends and the wall. */ readonly inertance: number;
  /** kg/m4, least and greatest that the ends allow. */ readonly inertanceRange: readonly [
    low: number,
    high: number,
  ];
  /** Viscous resistance is this times sqrt(omega), Pa s/m3. */ readonly viscousPerRootOmega: number;
  readonly flow: FlowSources;
}
export declare function holeFlow(input: HoleFlowInput): Outcome<HoleFlow>;
