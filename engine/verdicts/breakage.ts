import { formatQuantity } from "#engine/units";
import type { MarginRow } from "./margins.ts";
import { sayCount, sayList } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

const stopBelow = 1;
const watchBelow = 2;

/**
 * Do plates, braces and glue lines bear the strings for good? The least margin, after moisture and time under load: below 1 stop
 * (it breaks), below 2 watch (boards and joints differ, and the model is smooth where wood is not): common practice, no
 * source. Peaks at a point below 1, and compression, are watched only: they give before they part (a bent part breaks on its
 * tension face, which has its own row).
 */
export function breakage(rows: readonly MarginRow[]): Verdict {
  const known = rows.filter((r): r is Known => r.margin !== null);
  const unknown = rows.length - known.length;
  const firm = known.filter((r) => !yields(r));
  const sharp = known.filter((r) => yields(r) && r.margin < stopBelow);
  const parts = firm.filter((r) => r.margin < stopBelow);
  const near = firm.filter((r) => r.margin < watchBelow);
  const level: Level =
    parts.length > 0 ? "stop" : near.length + sharp.length > 0 || firm.length === 0 ? "watch" : "good";
  const least = firm[0];
  return {
    id: "breakage",
    title: "Plates, braces and glue lines hold",
    level,
    computed: [
      least === undefined
        ? "no strength is known of any stressed part"
        : `the least of ${sayCount(firm.length, "margin")} is ${least.margin.toFixed(1)}: ${least.part} in ${least.what}, ${sayStress(least.stress)} against ${sayStress(least.strength ?? 0)} (${least.rules})`,
      ...(sharp.length === 0
        ? []
        : [`below 1 at ${sayCount(sharp.length, "place")} where it gives first: ${named(sharp, 2)}`]),
      ...(unknown === 0 ? [] : [`of ${sayCount(unknown, "place")} the strength is not known`]),
    ].join("; "),
    limit:
      "stop below 1, watch below 2, strength taken at its moisture and for the time under load; watch only, because wood gives there before it parts: peaks at a point and compression below 1",
    source:
      "strengths WH-T53 and factors WH-MECH, WOOD-1951 (read or from memory, as the table says); the limit of 2 is common practice, no source",
    why:
      firm.length === 0
        ? "without a species no strength can be looked up, and a missing margin is no margin"
        : parts.length > 0
          ? `${named(parts)} would break under the strings in the end; what lets go under their pull flies`
          : near.length > 0
            ? `${named(near)}: little to spare for a weak board, a starved joint or a knock`
            : sharp.length > 0
              ? "the parts hold in the mean, but at points where stiffness changes at once the elastic stress is above the strength: glue lines begin to open and wood to crush at such places"
              : "every part bears the strings for decades with some to spare",
    whatWouldChange:
      "lighter strings; more glue land and a wider bridge against peel; brace ends that taper off slowly and do not end together with the bridge; a thicker plate; grain without runout",
    sureness:
      least?.weakMargin == null
        ? "no spread is carried"
        : `elastic model, perfect joints; strength of clear boards differs by 15 to 25 % (one in twenty leaves ${least.weakMargin.toFixed(1)} here), stresses by 20 to 30 %; knots, runout and the size of the piece are not in it`,
    figures: {
      ...(least === undefined ? {} : { leastMargin: least.margin }),
      belowTwo: near.length,
      belowOne: parts.length,
      peaksBelowOne: sharp.length,
      notKnown: unknown,
    },
    canHurt: true,
  };
}

type Known = MarginRow & { readonly margin: number };

function named(list: readonly Known[], most = 4): string {
  return sayList(
    list.map((r) => `${r.part} in ${r.what} (${r.margin.toFixed(1)})`),
    most,
  );
}

/** Gives way before it parts. */
function yields(row: MarginRow): boolean {
  return row.peak || row.kind === "compression-along" || row.kind === "compression-across";
}

/** "1.24 MPa". */
function sayStress(stress: number): string {
  return formatQuantity(stress, "MPa", Math.abs(stress) < 1e7 ? 2 : 1);
}
