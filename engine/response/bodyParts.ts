import type { AirProperties, HoleFlow } from "#engine/air";
import type { Polygon } from "#engine/geometry";
import type { PlateModes } from "#engine/shells";

/** Where one string leaves the saddle: plan place (body frame) and height over the top's mid-surface there, m. */
export interface Crown {
  readonly string: number;
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** Where the back's plate frame sits in the body frame: z = -depth - slope x is the plane of its edge. */
export interface BackSeat {
  readonly depth: number;
  /** Depth gained per metre towards the neck; negative where the body is shallower at the neck. */
  readonly slope: number;
}

/** The strip of the top that lies over side and lining, m: within `width` of the outline. */
export interface RimStrip {
  readonly outline: Polygon;
  readonly width: number;
}

export interface Cavity {
  /** Net, m3. */
  readonly volume: number;
  readonly air: AirProperties;
  readonly hole: HoleFlow;
  /** m3/(s Pa) through leaks; 0 if none. */
  readonly leak: number;
  /** m2 of inner wall, for heat exchanged with it; 0 to leave it out. */
  readonly wallArea: number;
}

/** Everything `coupleBody` couples. Plates in their plate frames, edges held to the rim. */
export interface BodyParts {
  readonly top: PlateModes;
  readonly back: PlateModes;
  /** What of the top lies over side and lining: left out where the moving top is measured. Not given: nothing. */
  readonly topRim?: RimStrip;
  readonly backSeat: BackSeat;
  /** 6 x 6 mass of sides, blocks, linings, neck as one rigid body about the body frame's origin; "held": it cannot move. */
  readonly rim: { readonly mass: Float64Array } | "held";
  readonly cavity: Cavity;
  readonly crowns: readonly Crown[];
  /** 6C x 6C, from `pointFlexibility` at the crowns' plan points, edges held. */
  readonly bridgeFlexibility: Float64Array;
  /** N/m by crown: axial stiffness EA/L of each string between crown and nut; null: strings off (damped and slack). */
  readonly stringStiffness: Float64Array | null;
  /** Air outside on the plates: that of an endless baffle (if not given), or none, as in textbook models. */
  readonly outsideAir?: "baffled" | "none";
}
