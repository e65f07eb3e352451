import type { EdgeMargins, HandReach } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import {
  action,
  type BuzzFigures,
  breakAngle,
  buzz,
  edgeMargin,
  type LeastMargin,
  type NearestNote,
  reach,
  saddleHeight,
  saddleSlot,
  type Verdict,
} from "#engine/verdicts";
import type { InstrumentGeometry } from "../geometry.ts";
import type { BridgeHeights } from "./bridgeHeights.ts";
import type { PluckedString, PluckName } from "./buzzTable.ts";
import type { TriedRelief } from "./reliefSearch.ts";
import type { SaddlePlaces } from "./saddlePlaces.ts";

/** One tuning as it is worked out, SI. */
interface TunedStrings {
  readonly name: string;
  readonly places: SaddlePlaces;
  readonly strings: readonly ({ readonly string: number; readonly atRest: PluckedString } & Readonly<
    Record<PluckName, PluckedString>
  >)[];
}

/** What the verdicts on the setup are drawn from, SI; the set's own tuning first. */
interface SetupParts {
  readonly bridge: BridgeHeights;
  readonly reach: HandReach;
  readonly margins: EdgeMargins;
  readonly reliefs: readonly TriedRelief[];
  readonly tunings: readonly TunedStrings[];
}

/** Unmarked. The saddle's slot is judged by the set's own tuning, for which it is cut. */
export function setupVerdicts(
  build: Build,
  { plan, board }: InstrumentGeometry,
  parts: SetupParts,
): readonly Verdict[] {
  const { bridge, tunings } = parts;
  const { saddle, strings } = build;
  const last = strings.length - 1;
  const slot = tunings[0]!.places.slot;
  const { bass, treble } = board.saddleLine;
  return [
    action({
      bass: strings[last]!.action,
      treble: strings[0]!.action,
      bassAsStated: bridge.actionAsStated[last]!,
      trebleAsStated: bridge.actionAsStated[0]!,
    }),
    buzz(buzzOf(build, parts)),
    saddleHeight({
      statedBass: saddle.heightBass,
      statedTreble: saddle.heightTreble,
      askedBass: bridge.asked[last]!,
      askedTreble: bridge.asked[0]!,
      bridgeThickness: build.bridge.thickness,
      slotDepth: saddle.slotDepth,
      run: plan.length - (bass[0] + treble[0]) / 2,
      straightedge: bridge.straightedge,
    }),
    breakAngle(bridge.breakAngle),
    edgeMargin(leastOf(parts.margins.bass), leastOf(parts.margins.treble)),
    ...(slot === null ? [] : [saddleSlot(slot)]),
    reach({
      fret: parts.reach.fret,
      lastFret: build.board.frets,
      joinFret: build.neck.joinFret,
      pastBodyEnd: parts.reach.pastBodyEnd,
      limit: parts.reach.limit,
    }),
  ];
}

function leastOf(margins: Float64Array): LeastMargin {
  const margin = Math.min(...margins);
  return { fret: margins.indexOf(margin), margin };
}

function buzzOf(build: Build, { reliefs, tunings }: SetupParts): BuzzFigures {
  const own = tunings[0]!.strings;
  const [soft, normal, hard] = (["soft", "normal", "hard"] as const).map((name) => nearestOf(own, name));
  const now = reliefs.find((r) => Math.abs(r.relief - build.neck.relief) < 1e-9);
  const better = reliefs.reduce<TriedRelief | null>(
    (best, r) => (best === null || r.leastClearance > best.leastClearance ? r : best),
    null,
  );
  return {
    tunings: tunings.map(({ name, strings }) => ({
      name,
      strings: strings.map((s, i) => ({
        string: s.string,
        soft: s.soft.buzzing,
        normal: s.normal.buzzing,
        hard: s.hard.buzzing,
        action: build.strings[i]!.action,
        leastActionSoft: s.soft.leastAction,
        leastActionNormal: s.normal.leastAction,
      })),
    })),
    frets: build.board.frets,
    least: soft && normal && hard ? { soft, normal, hard } : null,
    resting: own.flatMap(({ string, atRest: { nearest } }) =>
      nearest.flatMap((n, fret) =>
        n !== null && n.clearance <= 0 ? [{ string, fret, overFret: n.overFret }] : [],
      ),
    ),
    relief: build.neck.relief,
    betterRelief:
      now === undefined || better === null || better.leastClearance <= now.leastClearance
        ? null
        : { relief: better.relief, gain: better.leastClearance - now.leastClearance },
  };
}

function nearestOf(strings: TunedStrings["strings"], pluck: PluckName): NearestNote | null {
  let nearest: NearestNote | null = null;
  for (const s of strings) {
    const { worst } = s[pluck];
    if (worst !== null && (nearest === null || worst.clearance < nearest.clearance))
      nearest = { string: s.string, ...worst };
  }
  return nearest;
}
