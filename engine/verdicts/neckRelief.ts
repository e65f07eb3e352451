import { sayForce, sayLength } from "./say.ts";
import type { Verdict } from "./verdict.ts";

/** Hollow of the neck between the frets of the straightedge, m; crowned below 0. */
export interface NeckReliefFigures {
  readonly wanted: number;
  /** Under the strings with the rod let go. */
  readonly slack: number;
  /** What the rod can set it to. */
  readonly least: number;
  readonly most: number;
  /** At the force that the document states, N and m; null where it states none. */
  readonly stated: { readonly force: number; readonly relief: number } | null;
  /** Force that gives the relief wanted, N; null without a rod or out of its reach. */
  readonly force: number | null;
  readonly adjustable: boolean;
}

// A feeler gauge tells no less.
const slack = 3e-5;
/** Wood from a catalogue: stiffness along the grain within 15 %, and what the board's slots take (engineering judgement). */
const spread = 0.25;

/** The relief wanted against what strings and rod make of a neck that was straight without them. Out of reach or missed by the stated force: watch. */
export function neckRelief(r: NeckReliefFigures): Verdict {
  const reachable = r.wanted >= r.least - slack && r.wanted <= r.most + slack;
  const missed = r.stated !== null && Math.abs(r.stated.relief - r.wanted) > 2 * slack;
  const mm = (x: number): string => sayLength(x, 2);
  const found =
    r.stated === null
      ? ""
      : `; ${mm(r.stated.relief)} with the rod at the stated ${sayForce(r.stated.force)}`;
  const needed = r.force === null || !r.adjustable ? "" : `; the relief wanted takes ${sayForce(r.force)}`;
  return {
    id: "neck-relief",
    title: "Relief that strings and rod give",
    level: reachable && !missed ? "good" : "watch",
    computed: `${mm(r.slack)} under the strings${r.adjustable ? " with the rod slack" : ""}${found}${needed}; ${mm(r.wanted)} wanted`,
    limit: r.adjustable
      ? `what the rod can set: ${mm(r.least)} to ${mm(r.most)}`
      : "what the strings alone make of a straight neck",
    source: "computed: tapered composite beam; 0.10 to 0.25 mm is usual (common practice, no source)",
    why: !reachable
      ? r.wanted > r.most
        ? "the neck is so stiff that its strings do not draw it as hollow as is wanted"
        : r.adjustable
          ? "the strings draw the neck hollower than its rod can take back"
          : "the strings draw the neck hollower than is wanted, and no rod takes it back"
      : missed
        ? "the rod sets the relief wanted, but not at the force that is stated"
        : "strings and rod between them give the relief wanted",
    whatWouldChange: r.adjustable
      ? "the rod's nut; carbon bars in or out; a rod that lies deeper or works by two bars; depth of the neck (stiffness goes with its cube); or the relief planed into the board before the frets go in"
      : "the relief planed into the board before the frets go in; bars in or out; depth of the neck (stiffness goes with its cube); an adjustable rod",
    sureness: `two times in three the strings' bend is within ${(spread * 100).toFixed(0)} %: ${mm(r.slack * (1 - spread))} to ${mm(r.slack * (1 + spread))} slack; four weeks under load add 3 to 40 % of it`,
    figures: {
      wanted: r.wanted,
      slack: r.slack,
      least: r.least,
      most: r.most,
      ...(r.force === null ? {} : { force: r.force }),
    },
    canHurt: false,
  };
}
