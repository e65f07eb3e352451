/** Checks on tunings and strings: tensions that break a string or leave it slack, and strings too thick for their places. */
import {
  breakMargin,
  designString,
  nearestNote,
  noteName,
  pitchOf,
  type StringDesign,
  tension,
} from "#engine/strings";
import { formatQuantity } from "#engine/units";
import type { Build, BuildString } from "../build.ts";
import type { BuildTuning } from "../buildSetup.ts";
import { type Issue, stop } from "../issue.ts";

/**
 * A string must hold a semitone sharp of its note: breaking force over tension, by T = 4 m L^2 f^2. The set's own notes
 * are held to the same figure by the verdict on strength, which shows it with its margin.
 */
const leastMargin = 2 ** (2 / 12);

/**
 * Below this tension, N, and below this share of its breaking force a string is slack (common practice, no source). Wire
 * breaks at a strain of about 1.2 %; at a twelfth of that the stretch of pressing it to a fret, some 2.5e-5, already
 * pulls it 20 cents sharp (1200 cents / ln 2 * stretch / 2 / strain).
 */
const slackTension = 25;
const slackShare = 0.08;

/** No note within this many semitones is looked for. */
const farthest = 48;

type State = "holds" | "breaks" | "slack";

interface Designed {
  readonly entry: BuildString;
  readonly design: StringDesign;
}

export function tuningIssues(build: Build): Issue[] {
  const strings = build.strings.map(designed);
  return build.tunings.flatMap((tuning, t) =>
    strings.flatMap((string): Issue[] => {
      if (string === null) return [];
      const frequency = tuning.frequencies[string.entry.string - 1] ?? Number.NaN;
      const state = stateAt(string, frequency);
      const own = stateAt(string, string.entry.frequency);
      // Told once, with the set's own notes; there, breaking is the verdict's.
      if (state === "holds" || (t === 0 ? state === "breaks" : state === own)) return [];
      return [tensionIssue(string, tuning, t, frequency, state, build.tuningReference)];
    }),
  );
}

function designed(entry: BuildString): Designed | null {
  const design = designString(entry.construction, {
    ...(entry.givenLinearDensity === null ? {} : { linearDensity: entry.givenLinearDensity }),
    ...(entry.givenBreakingForce === null ? {} : { breakingForce: entry.givenBreakingForce }),
  });
  return design.ok ? { entry, design: design.value } : null;
}

const tensionAt = ({ entry, design }: Designed, frequency: number): number =>
  tension(design.linearDensity, entry.scaleLength, frequency);

/** Least tension at which a string is not slack, N. */
const slackLimit = ({ design }: Designed): number =>
  Math.max(slackTension, slackShare * design.breakingForce);

function stateAt(string: Designed, frequency: number): State {
  const pull = tensionAt(string, frequency);
  if (breakMargin(string.design, pull) < leastMargin) return "breaks";
  return pull < slackLimit(string) ? "slack" : "holds";
}

function tensionIssue(
  string: Designed,
  tuning: BuildTuning,
  index: number,
  frequency: number,
  state: "breaks" | "slack",
  a4: number,
): Issue {
  const { entry, design } = string;
  const k = entry.string - 1;
  const note = tuning.notes[k] ?? "";
  const newton = (force: number): string => formatQuantity(force, "N", 0);
  const pull = newton(tensionAt(string, frequency));
  const near = nearestThatHolds(string, frequency, state, a4);
  const length = formatQuantity(entry.scaleLength, "mm", 1);
  return stop(
    state === "breaks" ? "string-breaks" : "string-slack",
    index === 0 ? `strings.set[${k}].note` : `${tuning.documentPath}.notes[${k}]`,
    state === "breaks"
      ? `In "${tuning.name}" string ${entry.string} would break: ${note} on ${length} asks for ${pull}, and it breaks at ${newton(design.breakingForce)}; it must hold a semitone more.`
      : `In "${tuning.name}" string ${entry.string} would hang slack: ${note} on ${length} pulls only ${pull}, less than ${newton(slackLimit(string))} (${newton(slackTension)}, or ${Math.round(100 * slackShare)} % of what it breaks at: common practice, no source).`,
    {
      found: JSON.stringify(note),
      ...(near === null
        ? {}
        : {
            allowed: `${near} or ${state === "breaks" ? "lower" : "higher"}`,
            example: JSON.stringify(near),
          }),
      remedy:
        near === null
          ? "No note suits this string at this length: choose another gauge or scale."
          : `The nearest note that works is ${near}; for ${note} choose ${state === "breaks" ? "a shorter scale, or a core of stronger wire" : "a heavier string or a longer scale"}.`,
    },
  );
}

function nearestThatHolds(string: Designed, frequency: number, state: State, a4: number): string | null {
  const from = nearestNote(frequency, a4);
  const step = state === "breaks" ? -1 : 1;
  for (let k = 1; k <= farthest; k++) {
    const found = stateAt(string, pitchOf(from + step * k, a4));
    if (found === "holds") return noteName(from + step * k);
    if (found !== state) return null;
  }
  return null;
}

/** Least room between neighbours, edge to edge, m: nearer they touch each other when played (common practice, no source). */
const leastGap = 1e-3;

/** Neighbours must not touch, at the nut and at the saddle. */
export function gaugeIssues(build: Build): Issue[] {
  const strings = build.strings.map(designed);
  return (["nut", "saddle"] as const).flatMap((end): Issue[] => {
    let tightest = { gap: Number.POSITIVE_INFINITY, upper: 0 };
    strings.forEach((a, i) => {
      const b = strings[i + 1];
      if (a === null || b === null || b === undefined) return;
      const across = (s: Designed): number => (end === "nut" ? s.entry.nut[1] : s.entry.crown[1]);
      const gap = across(b) - across(a) - (a.design.diameter + b.design.diameter) / 2;
      if (gap < tightest.gap) tightest = { gap, upper: a.entry.string };
    });
    if (tightest.gap >= leastGap) return [];
    const key = end === "nut" ? "stringSpreadNut" : "stringSpreadSaddle";
    const needed = build.board[key] + (leastGap - tightest.gap) * (build.board.strings - 1);
    const room = formatQuantity(Math.max(0, tightest.gap), "mm", 2);
    const wide = formatQuantity(Math.ceil(needed * 2000) / 2000, "mm", 1);
    return [
      stop(
        "strings-touch",
        end === "nut" ? "strings.spreadAtNut" : "strings.spreadAtSaddle",
        `At the ${end} strings ${tightest.upper} and ${tightest.upper + 1} have ${room} between them: they are too thick for their places.`,
        {
          found: formatQuantity(build.board[key], "mm", 1),
          allowed: "1 mm or more from edge to edge (common practice, no source)",
          example: JSON.stringify(wide),
          remedy: `A spread of ${wide} makes room, or thinner strings.`,
        },
      ),
    ];
  });
}
