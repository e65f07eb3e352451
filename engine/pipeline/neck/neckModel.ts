import type { Build, BuildNeckRod } from "#engine/instrument";
import { done, failed, type Outcome } from "#engine/numerics";
import type { NeckBeam, NeckPull, NeckTendon } from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import { stringsOverBoard } from "../setup/stringsOverBoard.ts";
import type { SetString } from "../stringSet.ts";
import { boardLine, neckSectionAt, rodBehindNut } from "../structure/neckBeam.ts";

/** The neck from the body's edge (x = 0) to the nut as its strings find it. */
export interface NeckModel {
  /** m, to the middle of the nut. */
  readonly length: number;
  readonly pulls: readonly NeckPull[];
  /** Middle of the crown of each fret on the centreline, from the body's edge towards the nut, m; index 0: the nut. */
  readonly fretX: Float64Array;
  /** Frets on which the straightedge is laid. */
  readonly straightedge: { readonly fromFret: number; readonly toFret: number };
  readonly beam: NeckBeam;
  /** The same neck with solid wood in the place of its carbon and steel bars; null where it has none. */
  readonly withoutBars: NeckBeam | null;
}

const stations = 33;

/** Strings as set up (their heights with action and relief), all at the nut's middle; the joint does not give. Fails as the board's surface does, and with 'neck-hollow'. */
export function neckModel(
  build: Build,
  geometry: InstrumentGeometry,
  strings: readonly SetString[],
): Outcome<NeckModel> {
  const over = stringsOverBoard(build, geometry);
  if (!over.ok) return over;
  const { plan, board } = geometry;
  const { from, to } = boardLine(build, geometry);
  const length = to[0] - from[0];
  const count = board.strings.length;
  const fretX = Float64Array.from({ length: build.board.frets + 1 }, (_, fret) =>
    board.strings.reduce((sum, s) => {
      const share = s.fretDistance[fret]! / s.scaleLength;
      return sum + (s.nut[0] + (s.saddle[0] - s.nut[0]) * share - plan.length) / count;
    }, 0),
  );
  const bars = build.neck.rods.filter((rod) => rod.kind !== "adjustable");
  const beam = beamWith(build, length, build.neck.rods);
  if (!beam.EI.every((EI) => EI > 0))
    return failed("neck-hollow", "the slots of the rods take more wood than the neck has");
  return done({
    length,
    fretX,
    straightedge: { fromFret: 1, toFret: Math.min(Math.floor(build.neck.joinFret), build.board.frets) },
    pulls: over.value.map((s, i) => ({
      tension: strings[i]!.tension,
      heightAtNut: build.neck.fretHeight + s.nutHeight + strings[i]!.design.diameter / 2,
      climb: (s.saddleHeight - s.nutHeight) / s.scaleLength,
      pole: plan.length - board.strings[i]!.saddle[0],
    })),
    beam,
    withoutBars:
      bars.length === 0
        ? null
        : beamWith(
            build,
            length,
            build.neck.rods.filter((rod) => rod.kind === "adjustable"),
          ),
  });
}

function beamWith(build: Build, length: number, rods: readonly BuildNeckRod[]): NeckBeam {
  const x = Float64Array.from({ length: stations }, (_, k) => (length * k) / (stations - 1));
  const sections = Array.from(x, (s) => neckSectionAt(build, s, length, rods));
  return {
    x,
    EI: Float64Array.from(sections, (s) => s.EIUpright),
    axisDepth: Float64Array.from(sections, (s) => s.depth),
    jointCompliance: 0,
  };
}

/** How an adjustable rod works: as one bar that presses the neck together, or as two that push against each other. */
export type RodAction = "single" | "double";

/** A rod clearly higher than wide holds two bars, one over the other; else it is one bar (common practice, no source). */
export function rodAction(rod: BuildNeckRod): RodAction {
  return rod.height > 1.25 * rod.width ? "double" : "single";
}

/** What a tightened rod does to the neck: one bar a tendon on its axis, two bars (their middles half the rod's height apart) a couple. */
export function rodTendon(build: Build, length: number, rod: BuildNeckRod, force: number): NeckTendon {
  const to = length - rodBehindNut;
  const double = rodAction(rod) === "double";
  return {
    from: to - rod.length,
    to,
    force: double ? 0 : force,
    depth: build.neck.boardThickness + rod.axisDepth,
    moment: double ? (force * rod.height) / 2 : 0,
  };
}

/** Mild steel at yield, Pa, and a thread's core over its bar's section: common practice, no source. */
const yieldStress = 300e6;
const threadShare = 0.7;

/** Force at which the thread of an adjustable rod yields, N: a bar as thick as the slot is wide, or of two bars as half the rod is high. */
export function rodStrength(rod: BuildNeckRod): number {
  const bar = Math.min(rod.width, rodAction(rod) === "double" ? rod.height / 2 : rod.height);
  return yieldStress * threadShare * (Math.PI / 4) * bar ** 2;
}
