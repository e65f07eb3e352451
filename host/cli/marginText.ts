import type { LoadReport } from "#engine/pipeline";
import { inUnit } from "#engine/units";
import { table, wrapped } from "./text.ts";

type Row = LoadReport["margins"][number];

/** So many of each kind go on the page; the JSON has all. */
const firmShown = 12;
const pointsShown = 6;

const megapascals = (pascals: number): string => inUnit(pascals, "MPa").toFixed(2);

/** The margin table of `load`: what is stressed in the mean, then peaks at a point, what is not known, and where each limit is from. */
export function marginText({ margins }: LoadReport): string {
  const known = margins.filter((r) => r.margin !== null);
  const firm = known.filter((r) => !r.peak);
  const points = known.filter((r) => r.peak);
  const unknown = margins.filter((r) => r.margin === null);
  const air = margins[0]?.conditions;
  const blocks = [
    ...(air === undefined ? [] : [wrapped(`Margins: strength over stress, both in MPa; ${air}`)]),
    ...(firm.length === 0 ? [] : [rowsText(firm.slice(0, firmShown)), more(firm.length - firmShown)]),
    ...(points.length === 0
      ? []
      : [
          wrapped(
            "Peaks at a single point, where a brace, bridge or patch ends: they depend on the mesh, and wood and glue give there first",
            "  ",
          ),
          rowsText(points.slice(0, pointsShown)),
          more(points.length - pointsShown),
        ]),
    ...(unknown.length === 0
      ? []
      : [
          wrapped(
            `Not known at ${unknown.length} places: ${[...new Set(unknown.map((r) => r.rules))].join("; ")}.`,
            "  ",
          ),
        ]),
    ...factorText(firm[0] ?? points[0]),
  ];
  return blocks.filter((block) => block !== "").join("\n");
}

function rowsText(rows: readonly Row[]): string {
  return table([
    ["margin", "weak", "stress", "bears", "part and way", "source"],
    ...rows.map((r) => [
      r.margin?.toFixed(1) ?? "",
      r.weakMargin?.toFixed(1) ?? "",
      megapascals(r.stressPa),
      r.strengthPa === null ? "" : megapascals(r.strengthPa),
      `${r.part}: ${brief(r)}`,
      r.source,
    ]),
  ]);
}

/** The way it breaks in few words; in a glue line with what gives first. */
function brief({ what, rules }: Row): string {
  const way = what.replace(" the grain", "").replace(", tension face", "").replace(" of the glue line", "");
  return what.includes("glue") ? `${way} of glue (${rules})` : way;
}

function more(count: number): string {
  return count > 0 ? `  and ${count} more that are higher (all in --json)` : "";
}

/** The factors of one row, as an example of all. */
function factorText(row: Row | undefined): string[] {
  if (row === undefined) return [];
  const factors = row.factors.map((f) => `${f.name} ${f.factor.toFixed(2)} (${f.source})`);
  return [
    wrapped(
      `"weak": what one board or joint in twenty leaves. Factors in "bears", of the first row: ${factors.join(", ")}. Limits of 1 (stop) and 2 (watch): common practice, no source.`,
      "  ",
    ),
  ];
}

/** What the elastic figures grow to, and how the woods move. */
export function yearsText({ creep, bridge }: LoadReport): string {
  const years = creep.map(({ years: n, low, likely, high }) => [
    `${n} year${n === 1 ? "" : "s"}`,
    `${(bridge.rotationDeg * likely).toFixed(1)} degrees`,
    `${(bridge.rotationDeg * low).toFixed(1)} to ${(bridge.rotationDeg * high).toFixed(1)}`,
    `times ${likely.toFixed(1)} (${low.toFixed(1)} to ${high.toFixed(1)})`,
  ]);
  return [
    wrapped(`Creep under the strings (${creep[0]?.source ?? ""}; ${creep[0]?.validity ?? ""})`),
    table([["after", "bridge turns", "range", "elastic figures"], ...years]),
  ].join("\n");
}

/** Where the work can hurt. */
export function cautionText(cautions: readonly string[]): string {
  return ["Care", ...cautions.map((c) => wrapped(c, "  - ", "    "))].join("\n");
}
