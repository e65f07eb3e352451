import type { Polygon } from "#engine/geometry";
import type { Context, Outcome } from "#engine/numerics";
import type { Panel } from "./panel.ts";

export interface PanelCaseLoad {
  readonly polygon: Polygon;
  readonly Fx: number;
  readonly Fy: number;
  readonly Fz: number;
  readonly My: number;
}
export interface PanelCase {
  readonly id: string;
  readonly panel: Panel;
  readonly analysis: "modes" | "static";
  readonly modeCount: number;
  readonly loads: readonly PanelCaseLoad[];
  readonly points: Readonly<Record<string, readonly [number, number]>>;
}
export interface StaticAnswer {
  readonly displacementsM: Readonly<Record<string, readonly [number, number, number]>>;
  readonly bridgeRotationRad: number | null;
}
export interface PanelAnswer {
  readonly frequenciesHz: readonly number[];
  readonly massKg: number;
  readonly displacementsM: Readonly<Record<string, readonly [number, number, number]>>;
  readonly bridgeRotationRad: number | null;
  readonly byComponent: Readonly<Record<string, StaticAnswer>>;
}
export declare function readPanelCase(json: unknown): Outcome<PanelCase>;
export declare function solvePanelCase(panelCase: PanelCase, ctx: Context): Outcome<PanelAnswer>;
