import type { Context, Outcome } from "#engine/numerics";
import type { PanelSystem } from "./panelSystem.ts";
import type { ShellMesh } from "./shellMesh.ts";

/** Modes of a panel with its edge held, mass-normalised (phi' M phi = 1), plus what a moving rim needs. */
export interface PlateModes {
  readonly count: number;
  /** rad/s, ascending. */ readonly omega: Float64Array;
  /** By strain-energy share of each complex elastic constant. */ readonly lossFactor: Float64Array;
  /** count x nodes x 6: ux, uy, uz, rx, ry, rz. */ readonly shapes: Float64Array;
  readonly mesh: ShellMesh;
  /** m2 of plate by node. */ readonly nodeArea: Float64Array;
  /** count: integral of outward motion over the true surface inside the edge, per unit modal coordinate. */
  readonly volume: Float64Array;
  /** kg. */ readonly mass: number;
  /** 6 x 6: R' M R about the origin of the plate frame (translations x, y, z, rotations x, y, z). */
  readonly rigidMass: Float64Array;
  /** count x 6: phi' M R. */ readonly rigidCoupling: Float64Array;
  /** 6: volume swept outward per unit rigid motion. */ readonly rigidVolume: Float64Array;
}

export declare function panelModes(system: PanelSystem, count: number, ctx: Context): Outcome<PlateModes>;
/** 6 x count (motion of each mode at the plan point, motion after motion), or null outside the plate. */
export declare function motionAt(modes: PlateModes, x: number, y: number): Float64Array | null;
