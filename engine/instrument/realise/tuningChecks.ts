/** Checks on tunings and strings: tensions that break a string or leave it slack, and strings too thick for their places. */
import {
  designString,
  type MakeableString,
  makeableStrings,
  nearestThatWorks,
  noteName,
  type StringDesign,
  slackLimit,
  stringState,
  tension,
} from "#engine/strings";
import { formatQuantity } from "#engine/units";
import type { Build, BuildString } from "../build.ts";
import type { BuildTuning } from "../buildSetup.ts";
import { type Issue, stop } from "../issue.ts";

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

const stateAt = (string: Designed, frequency: number) =>
  stringState(string.design, tensionAt(string, frequency));

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
  const { scaleLength, construction } = entry;
  const works = nearestThatWorks(
    design,
    { string: entry.string, frequency, scaleLength },
    makeableStrings({
      wrap: construction.kind === "wound" ? construction.wraps.at(-1)!.material : "phosphor-bronze",
      coreShape: construction.kind === "wound" ? construction.coreShape : "hex",
      heaviestPlain: 0.027 * 0.0254,
    }),
    a4,
  );
  const near = works?.note == null ? null : noteName(works.note);
  const gauge =
    works?.string == null ? "" : `, ${state === "breaks" ? "or" : "say"} ${gaugeWords(works.string)}`;
  const length = formatQuantity(entry.scaleLength, "mm", 1);
  return stop(
    state === "breaks" ? "string-breaks" : "string-slack",
    index === 0 ? `strings.set[${k}].note` : `${tuning.documentPath}.notes[${k}]`,
    state === "breaks"
      ? `In "${tuning.name}" string ${entry.string} would break: ${note} on ${length} asks for ${pull}, and it breaks at ${newton(design.breakingForce)}; it must hold a semitone more.`
      : `In "${tuning.name}" string ${entry.string} would hang slack: ${note} on ${length} pulls only ${pull}, less than ${newton(slackLimit(design))} (25 N, or 8 % of what it breaks at: common practice, no source).`,
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
          : `The nearest note that works is ${near}; for ${note} choose ${state === "breaks" ? "a shorter scale" : "a longer scale or a heavier string"}${gauge}.`,
    },
  );
}

/** "a plain string of 0.013 in": its outside diameter. */
const gaugeWords = ({ construction, design }: MakeableString): string =>
  `a ${construction.kind} string of ${formatQuantity(design.diameter, "in", 3)}`;

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
