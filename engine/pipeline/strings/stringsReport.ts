import type { Build, BuildTuning } from "#engine/instrument";
import { done, failed, type Outcome } from "#engine/numerics";
import { balancedSet, type MakeableString, slackLimit, type WireName, wires } from "#engine/strings";
import { markMeant, slack, stringStrength, totalLoad, type Verdict } from "#engine/verdicts";
import { type Stamp, stamp } from "../stamp.ts";
import type { SetString } from "../stringSet.ts";
import { type ConstructionRow, constructionRow } from "./constructionRow.ts";
import { makeableFor, type StringRow, stringRow, type TunedRow, touchOf, tunedRow } from "./stringRow.ts";

/** The JSON contract of `strings`. Strings with string 1 first; m, N, kg. */
export interface StringsReport {
  /** The tuning that `strings` and `balance` are told for. */
  readonly tuning: string;
  readonly strings: readonly StringRow[];
  /** Where and how far a string is drawn aside for its feel. */
  readonly touch: { readonly fromSaddleM: number; readonly displacementM: number };
  /** Every tuning of the document, the set's own notes first. */
  readonly tunings: readonly {
    readonly name: string;
    readonly totalN: number;
    readonly strings: readonly TunedRow[];
    readonly verdicts: readonly Verdict[];
  }[];
  readonly materials: readonly MaterialRow[];
  readonly balance: BalanceReport | null;
  /** Those of the tunings, gravest of each kind. */
  readonly verdicts: readonly Verdict[];
  readonly validity: string;
  readonly stamp: Stamp;
}

/** Values of a wire with one standard deviation over the value, and where each is from. */
interface MaterialRow {
  readonly name: WireName;
  readonly density: { readonly value: number; readonly spread: number; readonly source: string };
  readonly stiffness: { readonly value: number; readonly spread: number; readonly source: string };
  /** Null: it may wrap but not carry. */
  readonly strengthSource: string | null;
}

/** A set proposed in place of the document's. */
export interface BalanceReport {
  readonly kind: "tension" | "feel";
  /** N, or N/m for feel: the mean of the document's set. */
  readonly target: number;
  readonly strings: readonly {
    readonly string: number;
    readonly note: string;
    readonly construction: ConstructionRow | null;
    readonly diameterM: number | null;
    readonly tensionN: number | null;
    readonly feelNPerM: number | null;
    readonly breakMargin: number | null;
    /** Over the target, less 1; null where no makeable string holds. */
    readonly miss: number | null;
    readonly why: "lightest" | "heaviest" | "steps" | "breaks" | "slack" | null;
  }[];
  /** Null where a string is missing. */
  readonly totalN: number | null;
  /** Greatest over least of what is to be equal, as it is and as proposed. */
  readonly ratioNow: number;
  readonly ratioThen: number | null;
}

const stringsValidity =
  "tension by the ideal string, within 2 % for plain and 3 % for wound strings whose weight is not given; strength is that " +
  "of new wire; losses are those of the string alone, known within a factor of 2";

/**
 * The whole of `fairbout strings`, told for the tuning of that name (absent: the set's own notes); `balance` proposes a
 * set in which that is equal. Fails with "no-such-tuning".
 */
export function stringsReport(
  build: Build,
  strings: readonly SetString[],
  wish: { readonly tuning?: string; readonly balance?: BalanceReport["kind"] } = {},
): Outcome<StringsReport> {
  const wanted = wish.tuning;
  const told = build.tunings.findIndex(({ name }) => wanted === undefined || name === wanted);
  if (told < 0)
    return failed(
      "no-such-tuning",
      `the document has no tuning "${wanted}"; it has ${build.tunings.map(({ name }) => `"${name}"`).join(", ")}`,
    );
  const makeable = makeableFor(build);
  const tunings = build.tunings.map((tuning) => tuningReport(build, strings, tuning, makeable));
  const rows = tunings[told]!.strings;
  const touch = touchOf(build);
  return done({
    tuning: tunings[told]!.name,
    strings: strings.map((s, i) => stringRow(build, s, rows[i]!)),
    touch: { fromSaddleM: touch.place, displacementM: touch.displacement },
    tunings,
    materials: materialsOf(build),
    balance: wish.balance === undefined ? null : balanceOf(build, strings, rows, wish.balance, makeable),
    verdicts: gravest(tunings.flatMap(({ verdicts }) => verdicts)),
    validity: stringsValidity,
    stamp: stamp("strings", build, wish),
  });
}

function tuningReport(
  build: Build,
  strings: readonly SetString[],
  { name, notes, frequencies }: BuildTuning,
  makeable: readonly MakeableString[],
): StringsReport["tunings"][number] {
  const rows = strings.map((s, i) => tunedRow(build, s, notes[i]!, frequencies[i]!, makeable));
  const tuned = rows.map(({ string, note, tensionN }, i) => {
    const { design } = strings[i]!;
    return {
      string,
      note,
      tension: tensionN,
      breakingForce: design.breakingForce,
      slackLimit: slackLimit(design),
    };
  });
  const verdicts = [stringStrength(tuned), slack(tuned), totalLoad(rows.map(({ tensionN }) => tensionN))];
  return {
    name,
    totalN: rows.reduce((sum, { tensionN }) => sum + tensionN, 0),
    strings: rows,
    verdicts: markMeant(
      build.tunings.length === 1 ? verdicts : verdicts.map((v) => ({ ...v, title: `${v.title}: ${name}` })),
      build.meant,
    ).verdicts,
  };
}

/** Of each kind the gravest; of equals the first. */
function gravest(verdicts: readonly Verdict[]): readonly Verdict[] {
  const order = ["good", "watch", "stop"];
  const kept = new Map<string, Verdict>();
  for (const v of verdicts) {
    const held = kept.get(v.id);
    if (held === undefined || order.indexOf(v.level) > order.indexOf(held.level)) kept.set(v.id, v);
  }
  return [...kept.values()];
}

function materialsOf(build: Build): readonly MaterialRow[] {
  const names = new Set<WireName>();
  for (const { construction: c } of build.strings) {
    names.add(c.kind === "plain" ? c.material : (c.coreMaterial ?? "steel"));
    if (c.kind === "wound") for (const { material } of c.wraps) names.add(material);
  }
  return [...names].map((name) => {
    const { density, stiffness, tensile } = wires[name];
    return { name, density, stiffness, strengthSource: tensile?.source ?? null };
  });
}

function balanceOf(
  build: Build,
  strings: readonly SetString[],
  rows: readonly TunedRow[],
  kind: BalanceReport["kind"],
  makeable: readonly MakeableString[],
): BalanceReport {
  const now = rows.map((row) => (kind === "feel" ? row.feelNPerM : row.tensionN));
  const target = now.reduce((sum, value) => sum + value, 0) / now.length;
  const places = strings.map(({ string, scaleLength }, i) => ({
    string,
    scaleLength,
    frequency: rows[i]!.frequencyHz,
  }));
  const set = balancedSet(
    places,
    kind === "feel" ? { kind, feel: target } : { kind, tension: target },
    makeable,
    touchOf(build),
  );
  const whole = set.flatMap(({ chosen }) => (chosen === null ? [] : [chosen]));
  const complete = whole.length === set.length;
  const ratio = (values: readonly number[]): number => Math.max(...values) / Math.min(...values);
  return {
    kind,
    target,
    strings: set.map(({ string, chosen, why }, i) => ({
      string,
      note: rows[i]!.note,
      construction: chosen === null ? null : constructionRow(chosen.construction),
      diameterM: chosen?.design.diameter ?? null,
      tensionN: chosen?.tension ?? null,
      feelNPerM: chosen?.feel ?? null,
      breakMargin: chosen?.breakMargin ?? null,
      miss: chosen?.miss ?? null,
      why,
    })),
    totalN: complete ? whole.reduce((sum, s) => sum + s.tension, 0) : null,
    ratioNow: ratio(now),
    ratioThen: complete ? ratio(whole.map((s) => (kind === "feel" ? s.feel : s.tension))) : null,
  };
}
