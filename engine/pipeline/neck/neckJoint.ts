import type { Build } from "#engine/instrument";
import { fromUnit } from "#engine/units";

/** What a joint lets the maker change once the guitar is strung; angles of pitch either way, common practice without a source. */
export interface JointRoom {
  readonly words: string;
  /** Change of pitch either way, rad. */
  readonly pitch: number;
  /** Whether it can be done with the strings on or only slackened. */
  readonly reversible: boolean;
}

const deg = (angle: number): number => fromUnit(angle, "deg");

const rooms: Readonly<Record<Build["neck"]["joint"], JointRoom>> = {
  adjustable: {
    words: "the pitch is set by its own screw, with the strings slackened at most; nothing is cut",
    pitch: deg(1),
    reversible: true,
  },
  hinged: {
    words: "the neck swings on its hinge and is set by a screw at the heel; nothing is cut",
    pitch: deg(1),
    reversible: true,
  },
  bolted: {
    words: "slacken the strings, take out the bolts and shim the joint, or plane the heel's cheeks",
    pitch: deg(0.5),
    reversible: true,
  },
  mortise: {
    words:
      "glued for good: the joint is opened with heat and moisture, the cheeks are pared and it is glued anew",
    pitch: deg(1),
    reversible: false,
  },
  dovetail: {
    words:
      "steam it apart, pare the heel's cheeks, shim the tail and glue it anew: a neck reset, once in some decades",
    pitch: deg(1),
    reversible: false,
  },
  "heel-built-in": {
    words:
      "heel and sides are one: the pitch stays as built; only saddle, frets and board are left to take down, or the back is loosened and the heel slipped",
    pitch: 0,
    reversible: false,
  },
};

/** A board glued to the top holds the neck too. */
export function jointRoom({ joint, boardClear }: Build["neck"]): JointRoom {
  const room = rooms[joint];
  if (boardClear || room.pitch === 0) return room;
  return { ...room, words: `${room.words}; the board's end must first be freed from the top` };
}

/** How far the action over fret 12 can be taken down, m. */
export interface ActionReserve {
  /** By filing the saddle until `saddleLeft` of it shows. */
  readonly bySaddle: number;
  /** By tilting the neck back as far as the joint goes. */
  readonly byJoint: number;
}

/** Of the saddle over the bridge at the least, m (common practice, no source): less, and the strings hardly bear on it. */
export const saddleLeft = 2e-3;

/**
 * Lowering the saddle by d lowers a string over fret 12 by d f, f the fret's share of the scale. Tilting the neck back by t lowers it by
 * t f times the way from joint to saddle: the nut sinks with the neck, and so does the fret.
 */
export function actionReserve(build: Build, share: number, jointToSaddle: number): ActionReserve {
  const { saddle, bridge, neck } = build;
  const shows = Math.min(saddle.heightBass, saddle.heightTreble) - bridge.thickness;
  return {
    bySaddle: share * Math.max(0, shows - saddleLeft),
    byJoint: share * jointToSaddle * rooms[neck.joint].pitch,
  };
}
