import type { AirProperties } from "#engine/air";

/** Names given by the motion of a mode, not by its frequency; each at most once. */
export type ModeName =
  | "main air"
  | "main top"
  | "main back"
  | "neck, up and down"
  | "neck, sideways"
  | "neck, twisting"
  | "cavity, lengthwise"
  | "cavity, across"
  | "cavity"
  | null;

export interface NameRival {
  readonly index: number;
  readonly ratio: number;
}

/** Hz: the hole's resonance on the cavity with every wall rigid, and its range for the range of the hole's ends. */
export interface RigidWallAir {
  readonly frequency: number;
  readonly low: number;
  readonly high: number;
}

/** Sound pressure of every mode at every listener, by frequency; see `pressureAt`. */
export interface ModePressure {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  readonly listeners: readonly string[];
  /**
   * frequencies x listeners x (rigidCount + count): Pa per unit modal acceleration, times exp(+i k travel): smooth in frequency.
   */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** m, by listener: travel whose phase is taken out. */
  readonly travel: Float64Array;
  readonly soundSpeed: number;
}

/** How the fingerboard moves at stations along it; 3 numbers by station: along z over the centreline, turn about x, along y. */
export interface NeckMotion {
  /** m, body frame, ascending. */
  readonly x: Float64Array;
  /** count x stations x 3; and rigidCount x stations x 3. */
  readonly shape: Float64Array;
  readonly imaginary: Float64Array;
  readonly rigidShape: Float64Array;
}

/** Imaginary parts of the shapes: damping couples modes, and they move out of step with themselves. */
export interface ImaginaryShapes {
  /** count x C x 3. */
  readonly crown: Float64Array;
  /** count. */
  readonly saddle: Float64Array;
}

/**
 * The body as the strings, the ear and the maker's finger meet it. THE SEAM: nothing here knows how it was made.
 *
 * m = rigidCount + count motions in all: rigid motions of the whole body first, then the modes ascending. C crowns, in
 * the order of `strings`; three directions each [normal, across, along] (docs/conventions.md). Crown direction index
 * d = 3 crown + direction. Shapes are mass-normalised (kg^-1/2) and complex, s = (listed) + i (`imaginary`); flows and shares
 * by which a mode is described are those of the undamped mode it grew from. With poles p_i = w_i^2 (1 + i/2q_i)^2,
 *   Y_de(w) = sum_i i w s_id s_ie / (p_i - w^2)  -  i/w sum_rigid s_rd s_re  +  i w residual_de      (no conjugates)
 * is exact for the body with its losses taken at each mode's own frequency, and takes energy at every frequency.
 */
export interface BodyResponse {
  /** Modes listed (without the rigid motions). */
  readonly count: number;
  /** Hz: Re(w)/2 pi of the coupled damped mode, strings damped off. */
  readonly frequency: Float64Array;
  /** Re w / (2 Im w), all losses. */
  readonly q: Float64Array;
  /** kg, at the saddle's midpoint crown along the top's outward normal; null above 1e4 kg. */
  readonly effectiveMass: readonly (number | null)[];
  readonly name: readonly ModeName[];
  /** String number of each crown (1 is the highest). */
  readonly strings: readonly number[];
  /** count x C x 3. */
  readonly crownShape: Float64Array;
  /** count: along the normal at the saddle's midpoint crown. */
  readonly saddleShape: Float64Array;
  /** 0 for a body that is held, else 6. */
  readonly rigidCount: number;
  /** rigidCount x C x 3. */
  readonly rigidCrownShape: Float64Array;
  /** rigidCount: along the normal at the saddle's midpoint crown. */
  readonly rigidSaddleShape: Float64Array;
  /** 3C x 3C, m/N: static compliance minus that of the modes. */
  readonly residual: Float64Array;
  /** m/N: the same at the saddle's midpoint crown along the normal (mean over the crowns' normals). */
  readonly saddleResidual: number;
  /** count x 3, [upper, middle, lower]: physics of the definition in `flowShares`. */
  readonly volumeVelocityShareByThird: Float64Array;
  /** count: flow of the hole over the sum of the absolute flows of the top's thirds, signed like the shares. */
  readonly holeFlowRatio: Float64Array;
  /** count: Pa at 1 m along the outward normal from the saddle's midpoint, per unit modal acceleration. */
  readonly pressurePerAcceleration: Float64Array;
  /** count x 3, [wood, hole and leak, radiation]: share of the loss. */
  readonly lossShare: Float64Array;
  /** 3 x m x m: integral over the upper, middle and lower third of the top, inside the lining, of v_n of one motion times that of another; empty in a live edit. */
  readonly motionByThird: Float64Array;
  /** drawnCount x nodes of the top's mesh: outward motion of the undamped modes. And of the back's. */
  readonly topMotion: Float64Array;
  readonly backMotion: Float64Array;
  /** null: a body without a hole. */
  readonly rigidWallAir: RigidWallAir | null;
  /** Hz: levels of pressure are foreseen up to here. */
  readonly validToHz: number;
  /** Hz: modes are foreseen up to here; above it only statistics would do. */
  readonly modesToHz: number;
  readonly air: AirProperties;
  /** By mode: which other mode nearly had the same name; see `NameRival`. */
  readonly rival: readonly (NameRival | null)[];
  /** count x 5 [top, back, sides, neck, air]: share of the kinetic energy; what is left is the body's motion as a whole. */
  readonly partShare: Float64Array;
  /** m/(s N): mean mobility of the top above `modesToHz`; statistical. null: not asked for. */
  readonly meanMobility: number | null;
  /** Modes whose motion is listed in `topMotion` and `backMotion`. */
  readonly drawnCount: number;
  readonly imaginary: ImaginaryShapes;
  /** Absent where the sound is that of a small source (`pressurePerAcceleration`). */
  readonly pressure?: ModePressure;
  /** Absent: the strings' far ends were not asked for. */
  readonly neck?: NeckMotion;
}
