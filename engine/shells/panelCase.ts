import type { Polygon } from "#engine/geometry";
import type { Panel } from "./panel.ts";

/** A load spread uniformly over a plan polygon: forces at the mid-surface, N, and a couple about +y, N m. */
export interface PanelCaseLoad {
  readonly polygon: Polygon;
  readonly Fx: number;
  readonly Fy: number;
  readonly Fz: number;
  readonly My: number;
}

/** A case as `fairbout panel CASE.json` reads it (format: proofs/reference/panel-cases/README.md). */
export interface PanelCase {
  readonly id: string;
  readonly panel: Panel;
  readonly analysis: "modes" | "static";
  /** Modes asked for; 0 for a static case. */
  readonly modeCount: number;
  readonly loads: readonly PanelCaseLoad[];
  readonly points: Readonly<Record<string, readonly [x: number, y: number]>>;
}

export interface StaticAnswer {
  readonly displacementsM: Readonly<Record<string, readonly [x: number, y: number, z: number]>>;
  /** About +y of the bridge's footprint; null if the case has no bridge (plate on the outside). */
  readonly bridgeRotationRad: number | null;
}

/** What `fairbout panel` prints. */
export interface PanelAnswer extends StaticAnswer {
  readonly frequenciesHz: readonly number[];
  readonly massKg: number;
  readonly byComponent: Readonly<Record<string, StaticAnswer>>;
}
