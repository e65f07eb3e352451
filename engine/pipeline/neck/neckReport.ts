import type { AssumedValue, Build } from "#engine/instrument";
import { done, type Outcome, piecewiseLinear } from "#engine/numerics";
import { inUnit } from "#engine/units";
import { markMeant, type Verdict } from "#engine/verdicts";
import type { InstrumentGeometry } from "../geometry.ts";
import { type Stamp, stamp } from "../stamp.ts";
import type { SetString } from "../stringSet.ts";
import { firstWeeks, type RiseRange } from "./firstWeeks.ts";
import { neckAssumed } from "./neckAssumed.ts";
import { headStrings } from "./neckHead.ts";
import { actionReserve, jointRoom, saddleLeft } from "./neckJoint.ts";
import { type NeckModel, neckModel, type RodAction, rodAction, rodStrength } from "./neckModel.ts";
import { type NeckState, neckReliefs, neckState } from "./neckRelief.ts";
import { type NeckParts, neckVerdicts } from "./neckVerdicts.ts";
import { woodAtRods } from "./neckWoodLeft.ts";

/** The JSON contract of the neck under its strings. Lists by string begin with string 1, by fret with the nut. m, N, degrees. */
export interface NeckReport {
  /** Hollow of the board under the straightedge, m (crowned below 0), of a neck that was straight without strings and rod. */
  readonly relief: {
    readonly straightedge: { readonly fromFret: number; readonly toFret: number };
    readonly wantedM: number;
    readonly slackM: number;
    /** At the force that the document states. */
    readonly statedForceN: number | null;
    readonly statedM: number | null;
    /** Force that gives the relief wanted; below 0 the rod pushes the neck forward. Null without a rod or out of its reach. */
    readonly wantedForceN: number | null;
    /** What the rod sets from tight (half its strength) to loose. */
    readonly leastM: number;
    readonly mostM: number;
    readonly workingForceN: number | null;
    /** Rod slack and solid wood for the carbon and steel bars; null where there are none. */
    readonly withoutBarsM: number | null;
    /** Rise of the board on its crowns from the nut to the joint, slack, and with the rod as stated or as wanted. */
    readonly riseByFretM: readonly { readonly fret: number; readonly slack: number; readonly set: number }[];
  };
  /** Every tuning of the document, the rod's force kept as stated, as wanted, or slack. */
  readonly tunings: readonly { readonly name: string; readonly totalN: number; readonly reliefM: number }[];
  readonly load: {
    readonly axialN: number;
    readonly momentAtJointNm: number;
    readonly momentAtNutNm: number;
    readonly nutRiseM: number;
    /** Times the strings' pull at which the neck would buckle, and what the strings gain on the bent neck: a share of its first bend. */
    readonly bucklingFactor: number;
    readonly secondOrderShare: number;
  };
  /** Along the neck, at the nut, half way and at the body's edge. */
  readonly sections: readonly {
    readonly fromNutM: number;
    readonly bendingStiffnessNm2: number;
    readonly elasticCentreM: number;
  }[];
  readonly rods: readonly {
    readonly rod: number;
    readonly kind: "adjustable" | "carbon" | "steel";
    /** One bar that presses the neck together, or two that bend it; null for a bar that cannot be set. */
    readonly action: RodAction | null;
    /** Its middle under the elastic centre of the neck, half way along: what a single bar's force bends by. */
    readonly underElasticCentreM: number;
    readonly strengthN: number | null;
    readonly woodOverM: number;
    readonly woodUnderM: number;
    readonly thinnestFromNutM: number;
    readonly woodUnderAtHeadM: number;
    /** Where its line comes out of the head's face; null on a straight head. */
    readonly leavesHeadM: readonly [number, number] | null;
  }[];
  readonly head: {
    readonly angleDeg: number;
    readonly thicknessM: number;
    readonly thicknessUsual: boolean;
    readonly woodUnderInlayM: number | null;
    readonly postsStated: boolean;
    readonly strings: readonly {
      readonly string: number;
      readonly breakAngleDeg: number;
      readonly sidewaysDeg: number;
      readonly pressOnNutN: number;
      readonly sidePushN: number;
    }[];
  };
  readonly joint: {
    readonly kind: Build["neck"]["joint"];
    readonly words: string;
    readonly pitchRoomDeg: number;
    readonly reversible: boolean;
    readonly actionReserve: {
      readonly bySaddleM: number;
      readonly byJointM: number;
      readonly saddleLeftM: number;
    };
  };
  /** Rise of the action over fret 12 after the set-up. */
  readonly firstWeeks: {
    readonly weeks: number;
    readonly elasticNeckM: number;
    readonly elasticWholeM: number | null;
    readonly neckM: RiseRange;
    readonly wholeM: RiseRange | null;
    readonly customaryM: { readonly low: number; readonly high: number };
    readonly source: string;
  };
  readonly assumed: readonly AssumedValue[];
  readonly validity: string;
  readonly verdicts: readonly Verdict[];
  readonly stamp: Stamp;
}

const neckValidity =
  "elastic beam of sections that stay plane, straight before strings and rod act on it, held at a joint that does not give; the board counts whole (slots filled by their frets), shear and twist are left out; " +
  "wood from a catalogue makes it good to 25 %; creep is known within a factor of 2 to 3";

/** What is customary for the rise of action in the first weeks, m (common practice, no source). */
const customaryRise = { low: 0.3e-3, high: 0.8e-3 };
const usualHead = [14e-3, 16e-3] as const;

/** The neck under its strings. `wholeElastic`: change of action over fret 12 under the strings by a solution of the whole body, m; null where there is none. Fails where the board's surface cannot be or the neck buckles. */
export function neckReport(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
  wholeElastic: number | null = null,
): Outcome<NeckReport> {
  const model = neckModel(build, geometry, strings);
  if (!model.ok) return model;
  const reliefs = neckReliefs(build, model.value);
  if (!reliefs.ok) return reliefs;
  const set = reliefs.value.stated ?? reliefs.value.wanted ?? reliefs.value.slack;
  const tunings = tuningRows(build, model.value, strings, set);
  if (!tunings.ok) return tunings;
  const twelfth = geometry.board.strings.reduce(
    (sum, s) =>
      sum + s.fretDistance[Math.min(12, build.board.frets)]! / s.scaleLength / geometry.board.strings.length,
    0,
  );
  const weeks = firstWeeks(model.value, set, twelfth, wholeElastic);
  if (!weeks.ok) return weeks;
  const parts: NeckParts = {
    model: model.value,
    reliefs: reliefs.value,
    rods: woodAtRods(build, model.value.length),
    head: headStrings(build, geometry, strings),
    weeks: weeks.value,
  };
  return done({
    relief: reliefRows(build, parts, set),
    tunings: tunings.value,
    load: loadRows(parts),
    sections: [0, 0.5, 1].map((share) => sectionRow(parts.model, share * parts.model.length)),
    rods: rodRows(build, parts),
    head: headRows(build, parts),
    joint: jointRows(build, parts, twelfth),
    firstWeeks: {
      weeks: weeks.value.weeks,
      elasticNeckM: weeks.value.elasticNeck,
      elasticWholeM: weeks.value.elasticWhole,
      neckM: weeks.value.neck,
      wholeM: weeks.value.whole,
      customaryM: customaryRise,
      source: weeks.value.source,
    },
    assumed: neckAssumed(build),
    validity: neckValidity,
    verdicts: markMeant(neckVerdicts(build, parts), build.meant).verdicts,
    stamp: stamp("neck", build, { wholeElastic }),
  });
}

function tuningRows(
  build: Build,
  model: NeckModel,
  strings: readonly SetString[],
  set: NeckState,
): Outcome<NeckReport["tunings"]> {
  const rows: NeckReport["tunings"][number][] = [];
  for (const { name, frequencies } of build.tunings) {
    // at one length the tension goes with the square of the pitch
    const pulls = model.pulls.map((p, i) => ({
      ...p,
      tension: p.tension * (frequencies[i]! / strings[i]!.frequency) ** 2,
    }));
    const state = neckState(build, { ...model, pulls }, set.force);
    if (!state.ok) return state;
    rows.push({
      name,
      totalN: pulls.reduce((sum, p) => sum + p.tension, 0),
      reliefM: state.value.relief,
    });
  }
  return done(rows);
}

function reliefRows(build: Build, { model, reliefs }: NeckParts, set: NeckState): NeckReport["relief"] {
  const { slack, stated, wanted, tightest, loosest, workingForce, withoutBars } = reliefs;
  const at = (state: NeckState, x: number): number => piecewiseLinear(state.bent.x, state.bent.rise, x);
  return {
    straightedge: model.straightedge,
    wantedM: build.neck.relief,
    slackM: slack.relief,
    statedForceN: stated?.force ?? null,
    statedM: stated?.relief ?? null,
    wantedForceN: wanted?.force ?? null,
    leastM: tightest.relief,
    mostM: loosest.relief,
    workingForceN: workingForce,
    withoutBarsM: withoutBars?.relief ?? null,
    riseByFretM: Array.from(model.fretX).flatMap((x, fret) =>
      x < -1e-6 ? [] : [{ fret, slack: at(slack, x), set: at(set, x) }],
    ),
  };
}

function loadRows({ model, reliefs }: NeckParts): NeckReport["load"] {
  const { bent } = reliefs.slack;
  const last = bent.x.length - 1;
  const tip = bent.rise[last]!;
  return {
    axialN: model.pulls.reduce((sum, p) => sum + p.tension, 0),
    momentAtJointNm: bent.moment[0]!,
    momentAtNutNm: bent.moment[last]!,
    nutRiseM: tip,
    bucklingFactor: bent.criticalFactor,
    secondOrderShare: tip / bent.firstRise[last]! - 1,
  };
}

function sectionRow({ beam, length }: NeckModel, fromNut: number): NeckReport["sections"][number] {
  return {
    fromNutM: fromNut,
    bendingStiffnessNm2: piecewiseLinear(beam.x, beam.EI, length - fromNut),
    elasticCentreM: piecewiseLinear(beam.x, beam.axisDepth, length - fromNut),
  };
}

function rodRows(build: Build, { model, rods }: NeckParts): NeckReport["rods"] {
  const { neck } = build;
  const centre = sectionRow(model, model.length / 2).elasticCentreM;
  return rods.map((wood) => {
    const rod = neck.rods[wood.rod]!;
    const adjustable = rod.kind === "adjustable";
    return {
      rod: wood.rod,
      kind: rod.kind,
      action: adjustable ? rodAction(rod) : null,
      underElasticCentreM: neck.boardThickness + rod.axisDepth - centre,
      strengthN: adjustable ? rodStrength(rod) : null,
      woodOverM: wood.over,
      woodUnderM: wood.under,
      thinnestFromNutM: wood.fromNut,
      woodUnderAtHeadM: wood.underAtHead,
      leavesHeadM: Number.isFinite(wood.leavesHead[1]) ? wood.leavesHead : null,
    };
  });
}

function headRows(build: Build, { head: strings }: NeckParts): NeckReport["head"] {
  const { head } = build.neck;
  return {
    angleDeg: inUnit(head.angle, "deg"),
    thicknessM: head.thickness,
    thicknessUsual: head.thickness >= usualHead[0] - 1e-6 && head.thickness <= usualHead[1] + 1e-6,
    woodUnderInlayM: head.inlayDepth === null ? null : head.thickness - head.inlayDepth,
    postsStated: head.postsStated,
    strings: strings.map((s) => ({
      string: s.string,
      breakAngleDeg: inUnit(s.breakAngle, "deg"),
      sidewaysDeg: inUnit(s.sideways, "deg"),
      pressOnNutN: s.press,
      sidePushN: s.sidePush,
    })),
  };
}

function jointRows(build: Build, { model }: NeckParts, twelfth: number): NeckReport["joint"] {
  const room = jointRoom(build.neck);
  const pole = model.pulls.reduce((sum, p) => sum + p.pole / model.pulls.length, 0);
  const reserve = actionReserve(build, twelfth, pole);
  return {
    kind: build.neck.joint,
    words: room.words,
    pitchRoomDeg: inUnit(room.pitch, "deg"),
    reversible: room.reversible,
    actionReserve: { bySaddleM: reserve.bySaddle, byJointM: reserve.byJoint, saddleLeftM: saddleLeft },
  };
}
