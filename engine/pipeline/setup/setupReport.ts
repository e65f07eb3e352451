import { edgeMargins, handReach, heightsUnderStrings, unevenUnderStrings } from "#engine/geometry";
import type { AssumedValue, Build } from "#engine/instrument";
import { done, type Outcome } from "#engine/numerics";
import { clearancesAhead, heightsOverFrets } from "#engine/strings";
import { inUnit } from "#engine/units";
import { besideCrown, markMeant, type SlotFigures, type Verdict } from "#engine/verdicts";
import type { InstrumentGeometry } from "../geometry.ts";
import { type Stamp, stamp } from "../stamp.ts";
import type { SetString } from "../stringSet.ts";
import { bridgeHeights } from "./bridgeHeights.ts";
import {
  type PluckedString,
  type PluckName,
  pluckedString,
  pluckOf,
  pluckShare,
  plucks,
} from "./buzzTable.ts";
import { triedReliefs } from "./reliefSearch.ts";
import { saddlePlaces } from "./saddlePlaces.ts";
import { setupVerdicts } from "./setupVerdicts.ts";
import { stringsOverBoard } from "./stringsOverBoard.ts";

/** The JSON contract of `setup`. Lists by fret begin with the open string; strings with string 1. m, N, degrees. */
export interface SetupReport {
  readonly neck: {
    readonly pitchDeg: number;
    /** Underside of the board over the top at the body's end. */
    readonly boardHeightM: number;
    readonly boardThicknessM: number;
    readonly fretHeightM: number;
    readonly reliefM: number;
    readonly joinFret: number;
    /** A straightedge on the frets, carried on, over the bridge's upper face at the saddle; below 0 it meets the bridge. */
    readonly straightedgeOverBridgeM: number;
  };
  /** Strings over the top's outside at the saddle, outer strings; a move above 0 raises the saddle. */
  readonly saddle: {
    readonly bassStatedM: number;
    readonly bassAskedM: number;
    readonly bassMoveM: number;
    readonly trebleStatedM: number;
    readonly trebleAskedM: number;
    readonly trebleMoveM: number;
    readonly bridgeThicknessM: number;
  };
  readonly strings: readonly SetupString[];
  /** Fret left outside the outer strings, by fret; index 0: the nut. */
  readonly edges: { readonly bassM: readonly number[]; readonly trebleM: readonly number[] };
  readonly tunings: readonly SetupTuning[];
  readonly pluck: {
    /** Share of a pluck's displacement that is square to the top. */
    readonly squareToTop: number;
    readonly softM: number;
    readonly normalM: number;
    readonly hardM: number;
  };
  /** What other reliefs do under a normal pluck, the action over fret 12 kept. */
  readonly reliefs: readonly {
    readonly reliefM: number;
    readonly leastClearanceM: number;
    readonly buzzingNotes: number;
  }[];
  readonly reach: {
    readonly fret: number;
    readonly lastFret: number;
    readonly pastBodyEndM: number;
    readonly edgeSetBackM: number;
    readonly limit: "board" | "heel" | "body";
  };
  /** What the document leaves open and was taken as is usual. */
  readonly assumed: readonly AssumedValue[];
  readonly validity: string;
  readonly verdicts: readonly Verdict[];
  readonly stamp: Stamp;
}

export interface SetupString {
  readonly string: number;
  readonly note: string;
  /** Underside of the open string over each crown; index 0: over the crowns carried on to the nut. */
  readonly actionM: readonly number[];
  /** Board over the straight line of its middle: cross radius and fall-away. */
  readonly boardM: readonly number[];
  /** Crowns over the straight line of the crowns along the board's middle: cross radius, relief, fall-away. */
  readonly crownM: readonly number[];
  /** The string at rest, stopped at each fret, over every crown ahead of it, the next one first. */
  readonly overCrownsM: readonly (readonly number[])[];
  /** How far the board under the string leaves a straight line by the cross radius alone. */
  readonly unevenM: number;
  /** Over the top at the bridge, as asked. */
  readonly heightAtBridgeM: number;
  /** Against the straight line between the outer strings' stated heights. */
  readonly saddleMoveM: number;
  /** Action over fret 12 if the outer saddle heights were left as stated. */
  readonly actionAsStatedM: number;
  readonly breakAngleDeg: number;
}

export interface SetupTuning {
  readonly name: string;
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly tensionN: number;
    /** The string at rest, nothing plucked. */
    readonly atRest: BuzzFigures;
    readonly plucks: readonly (BuzzFigures & {
      readonly pluck: PluckName;
      /** Displacement of the open string square to the top, at the plucking place. */
      readonly peakM: number;
    })[];
    /** Best saddle place behind the theoretical line, the nut on its line; null if the string cannot be played so. */
    readonly saddleOffsetM: number | null;
  }[];
  /** The saddle's slot for these offsets; null with fewer than two strings that can be played. */
  readonly saddleSlot: {
    /** Room for crowns across the slot. */
    readonly roomM: number;
    readonly straightMoveM: number;
    readonly straightSpanM: number;
    readonly slantedMoveM: number;
    readonly slantedSpanM: number;
    readonly slantDeg: number;
  } | null;
}

interface BuzzFigures {
  /** Least distance from a crown ahead; below 0 it strikes. Null at the last fret. */
  readonly clearanceM: readonly (number | null)[];
  readonly overFret: readonly (number | null)[];
  readonly buzzingFrets: readonly number[];
  /** Action over fret 12 from which no stopped note strikes, and clearance at the nut from which the open string does not; null on a board without frets ahead. */
  readonly leastActionM: number | null;
  readonly leastNutClearanceM: number | null;
}

export const setupValidity =
  "geometry of the unloaded body as drawn, frets levelled, board thickness taken at its middle; plucks are let go at 45 degrees to the top with one force at every fret, and the string swings as an ideal one without losses or stiffness: it strikes a little " +
  "less than this; a slacker tuning is plucked with the same force; its pull on neck and body is not in it (see load); the saddle stands where the scale puts it; reach is a rule of the trade, good to a fret";

/** The whole of `fairbout setup`. Fails where the board's cross radius or fall cannot be. */
export function setupReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): Outcome<SetupReport> {
  const over = stringsOverBoard(build, geometry);
  if (!over.ok) return over;
  const uneven = unevenUnderStrings(geometry.boardInOwnFrame, build.board, build.fingerboard.radius);
  if (!uneven.ok) return uneven;
  const board = heightsUnderStrings(
    geometry.boardInOwnFrame,
    build.board,
    build.fingerboard,
    build.neck.fretHeight,
  );
  if (!board.ok) return board;
  const bridge = bridgeHeights(build, geometry, over.value);
  const reach = handReach(geometry.plan, geometry.board, build.neck.boardHeight);
  const margins = edgeMargins(geometry.boardInOwnFrame, build.fingerboard.slot.overhang);
  const reliefs = triedReliefs(build, geometry);
  const tunings = build.tunings.map((tuning) => {
    const places = saddlePlaces(build, geometry, strings, tuning);
    return {
      name: tuning.name,
      places,
      strings: over.value.map((s, i) => {
        // at one length the tension goes with the square of the pitch, and the give of the string against it
        const pull = (tuning.frequencies[i]! / strings[i]!.frequency) ** 2;
        const pluck = (name: PluckName) => pluckedString(s, pluckOf(build, name, s.scaleLength, 1 / pull));
        return {
          string: s.string,
          note: tuning.notes[i]!,
          tension: strings[i]!.tension * pull,
          give: 1 / pull,
          atRest: pluckedString(s, null),
          soft: pluck("soft"),
          normal: pluck("normal"),
          hard: pluck("hard"),
        };
      }),
    };
  });
  const { saddle, neck } = build;
  const last = over.value.length - 1;
  return done({
    neck: {
      pitchDeg: inUnit(neck.pitch, "deg"),
      boardHeightM: neck.boardHeight,
      boardThicknessM: neck.boardThickness,
      fretHeightM: neck.fretHeight,
      reliefM: neck.relief,
      joinFret: neck.joinFret,
      straightedgeOverBridgeM: bridge.straightedge,
    },
    saddle: {
      bassStatedM: saddle.heightBass,
      bassAskedM: bridge.asked[last]!,
      bassMoveM: bridge.move[last]!,
      trebleStatedM: saddle.heightTreble,
      trebleAskedM: bridge.asked[0]!,
      trebleMoveM: bridge.move[0]!,
      bridgeThicknessM: build.bridge.thickness,
    },
    strings: over.value.map((s, i) => ({
      string: s.string,
      note: build.strings[i]!.note,
      actionM: Array.from(heightsOverFrets(s)),
      boardM: Array.from(board.value[i]!.board),
      crownM: Array.from(s.crownHeight),
      overCrownsM: clearancesAhead(s),
      unevenM: uneven.value[i]!,
      heightAtBridgeM: bridge.asked[i]!,
      saddleMoveM: bridge.move[i]!,
      actionAsStatedM: bridge.actionAsStated[i]!,
      breakAngleDeg: inUnit(bridge.breakAngle[i]!, "deg"),
    })),
    edges: { bassM: Array.from(margins.bass), trebleM: Array.from(margins.treble) },
    tunings: tunings.map((tuning) => ({
      name: tuning.name,
      strings: tuning.strings.map((s, i) => ({
        string: s.string,
        note: s.note,
        tensionN: s.tension,
        atRest: buzzFigures(s.atRest),
        plucks: plucks.map((pluck) => ({
          pluck,
          peakM: build.setup.pluck[pluck] * pluckShare * s.give,
          ...buzzFigures(s[pluck]),
        })),
        saddleOffsetM: tuning.places.offsets[i]!,
      })),
      saddleSlot: slotFigures(tuning.places.slot),
    })),
    pluck: {
      squareToTop: pluckShare,
      softM: build.setup.pluck.soft,
      normalM: build.setup.pluck.normal,
      hardM: build.setup.pluck.hard,
    },
    reliefs: reliefs.map((r) => ({
      reliefM: r.relief,
      leastClearanceM: r.leastClearance,
      buzzingNotes: r.buzzingNotes,
    })),
    reach: {
      fret: reach.fret,
      lastFret: build.board.frets,
      pastBodyEndM: reach.pastBodyEnd,
      edgeSetBackM: reach.edgeSetBack,
      limit: reach.limit,
    },
    assumed: build.assumed,
    validity: setupValidity,
    verdicts: markMeant(
      setupVerdicts(build, geometry, { bridge, reach, margins, reliefs, tunings }),
      build.meant,
    ).verdicts,
    stamp: stamp("setup", build, {}),
  });
}

function buzzFigures(p: PluckedString): BuzzFigures {
  const finite = (x: number): number | null => (Number.isFinite(x) ? x : null);
  return {
    clearanceM: p.nearest.map((n) => n?.clearance ?? null),
    overFret: p.nearest.map((n) => n?.overFret ?? null),
    buzzingFrets: p.buzzing,
    leastActionM: finite(p.leastAction),
    leastNutClearanceM: finite(p.leastNutClearance),
  };
}

function slotFigures(slot: SlotFigures | null): SetupTuning["saddleSlot"] {
  if (slot === null) return null;
  return {
    roomM: Math.max(0, slot.width - besideCrown),
    straightMoveM: slot.straight.move,
    straightSpanM: slot.straight.span,
    slantedMoveM: slot.slanted.move,
    slantedSpanM: slot.slanted.span,
    slantDeg: inUnit(slot.slanted.slant, "deg"),
  };
}
