import { formatQuantity } from "#engine/units";
import type { MarginRow } from "./margins.ts";
import { sayCount, sayList } from "./say.ts";
import type { Level, Verdict } from "./verdict.ts";

const stopBelow = 1;
const watchBelow = 2;

/**
 * Do plates, braces and glue lines bear the strings for good? The least margin, after moisture and time under load: below 1 stop
 * (it breaks), below 2 watch (boards and joints differ, and the model is smooth where wood is not): common practice, no
 * source. An edge peak below 1, and crushing across the grain, are watched only: they give before they part.
 */
export function breakage(rows: readonly MarginRow[]): Verdict {
  const known = rows.filter((r): r is MarginRow & { margin: number } => r.margin !== null);
  const unknown = rows.filter((r) => r.margin === null);
  const parts = known.filter((r) => r.margin < stopBelow && !yields(r));
  const near = known.filter((r) => r.margin < watchBelow);
  const level: Level = parts.length > 0 ? "stop" : near.length > 0 || known.length === 0 ? "watch" : "good";
  const named = (list: readonly MarginRow[]): string =>
    sayList(
      list.map((r) => `${r.part} in ${r.what} (${r.margin?.toFixed(1)})`),
      4,
    );
  const least = known[0];
  return {
    id: "breakage",
    title: "Plates, braces and glue lines hold",
    level,
    computed:
      least === undefined
        ? "no strength is known of any stressed part"
        : `the least of ${sayCount(known.length, "margin")} is ${least.margin.toFixed(1)}: ${least.part} in ${least.what}, ${sayStress(least.stress)} against ${sayStress(least.strength ?? 0)} (${least.rules})${unknown.length === 0 ? "" : `; of ${sayCount(unknown.length, "stress")}${unknown.length === 1 ? "" : "es"} the strength is not known`}`,
    limit:
      "stop below 1, watch below 2, strength taken at its moisture and for the time under load; at the edge of a glue line, and in crushing across the grain, watch only",
    source:
      "strengths WH-T53 and factors WH-MECH, WOOD-1951 (read or from memory, as the table says); the limit of 2 is common practice, no source",
    why:
      known.length === 0
        ? "without a species no strength can be looked up, and a missing margin is no margin"
        : parts.length > 0
          ? `${named(parts)} would break under the strings in the end; what lets go under their pull flies`
          : near.length > 0
            ? `${named(near)} has little to spare for a weak board, a starved joint or a knock`
            : "every part bears the strings for decades with some to spare",
    whatWouldChange:
      "lighter strings; more glue land and a wider bridge against peel; taller braces whose ends taper off slowly; a thicker plate; grain without runout",
    sureness:
      least?.weakMargin == null
        ? "no spread is carried"
        : `elastic model, perfect joints; a clear board's strength differs by 15 to 25 % (one in twenty leaves ${least.weakMargin.toFixed(1)} here), stresses by 20 to 30 %; knots, runout and the size of the piece are not in it`,
    figures: {
      ...(least === undefined ? {} : { leastMargin: least.margin }),
      belowTwo: near.length,
      belowOne: known.filter((r) => r.margin < stopBelow).length,
      notKnown: unknown.length,
    },
    canHurt: true,
  };
}

/** Gives way before it parts. */
function yields(row: MarginRow): boolean {
  return row.edgePeak || row.kind === "compression-across";
}

/** "1.24 MPa". */
export function sayStress(stress: number): string {
  return formatQuantity(stress, "MPa", Math.abs(stress) < 1e7 ? 2 : 1);
}
