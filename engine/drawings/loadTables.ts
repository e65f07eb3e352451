import { formatQuantity, inUnit, millimetres } from "#engine/units";
import type { MarginRow } from "#engine/verdicts";
import type { GlueLineView, LoadSheetView } from "./loadView.ts";
import { escaped, prose } from "./svg.ts";

interface Column {
  readonly heading: string;
  readonly left?: boolean;
}

/** A table with its caption; the first cell of each row heads it. Cells are HTML. */
function table(
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  kind: "margins" | "short" = "short",
): string {
  const head = columns
    .map((c) => `<th scope="col"${c.left ? ` class="left"` : ""}>${c.heading}</th>`)
    .join("");
  const cell = (text: string, i: number): string => {
    const side = columns[i].left ? ` class="left"` : "";
    return i === 0 ? `<th scope="row"${side}>${text}</th>` : `<td${side}>${text}</td>`;
  };
  const body = rows.map((row) => `<tr>${row.map(cell).join("")}</tr>`).join("");
  return `<div class="scroll"><table class="${kind}"><caption>${caption}</caption><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table></div>`;
}

const right = (heading: string): Column => ({ heading });
const left = (heading: string): Column => ({ heading, left: true });

/** Rows with a margin above this are folded away. */
const plenty = 3;

/** Least margin first, each with the number of its limit; then every limit with its factors and where both come from. */
export function marginTable({ margins, hand }: LoadSheetView): string {
  const limits: MarginRow[] = [];
  const same = (a: MarginRow, b: MarginRow) =>
    a.rules === b.rules && a.kind === b.kind && a.strength === b.strength && a.source === b.source;
  const numberOf = new Map(
    margins.map((row) => {
      const known = limits.findIndex((other) => same(row, other));
      return [row, known < 0 ? limits.push(row) : known + 1];
    }),
  );
  const line = (row: MarginRow) => [
    `${escaped(row.part)}<br><span class="soft">${escaped(row.what)}${row.peak ? " (peak)" : ""}</span>`,
    sayMega(row.stress),
    row.strength === null ? "not known" : sayMega(row.strength),
    row.margin === null ? "none claimed" : `<strong>${sayMargin(row.margin)}</strong>`,
    row.weakMargin === null ? "" : sayMargin(row.weakMargin),
    row.place === null ? "" : shortPlace(row.place.x, row.place.y, hand),
    String(numberOf.get(row)),
  ];
  const columns = [
    left("Part"),
    right("Stress"),
    right("Strength"),
    right("Margin"),
    right("Weak"),
    left("At, mm"),
    right("Limit"),
  ];
  const near = margins.filter((row) => row.margin === null || row.margin < plenty);
  const firm = near.filter((row) => !row.peak);
  const peaks = near.filter((row) => row.peak);
  const far = margins.filter((row) => !near.includes(row));
  const conditions = [...new Set(margins.map((row) => row.conditions))];
  const shown = (caption: string, rows: readonly MarginRow[]): string =>
    rows.length === 0 ? "" : table(caption, columns, rows.map(line), "margins");
  const folded =
    far.length === 0
      ? ""
      : `<details class="folded"><summary>${far.length} ${far.length === 1 ? "stress" : "stresses"} with a margin of ${plenty} or more</summary>${shown(`Margins of ${plenty} or more`, far)}</details>`;
  return (
    `<p>A margin is strength over stress, the strength taken at its moisture and for the time under load: ${prose(conditions.join("; "))}. "Weak" is the margin of one board or joint in twenty. A missing margin is no margin. Places are from the tail, and from the centreline to the bass or treble side.</p>` +
    shown(`Margins below ${plenty}, and those not known`, firm) +
    shown(
      "Peaks at a point, where stiffness changes at once: wood and glue give there before they part",
      peaks,
    ) +
    folded +
    limitTable(limits)
  );
}

/** Where each strength comes from, by the number that the margins name. */
function limitTable(limits: readonly MarginRow[]): string {
  return table(
    "Where each limit comes from",
    [right("No."), left("What gives, and how"), right("Strength"), left("Factors in it"), left("Source")],
    limits.map((row, i) => [
      String(i + 1),
      `${escaped(row.rules)}<br><span class="soft">${escaped(row.what)}</span>`,
      row.strength === null ? "not known" : sayMega(row.strength),
      row.factors
        .filter((f) => Math.abs(f.factor - 1) > 0.004)
        .map((f) => prose(`${f.name} × ${f.factor.toFixed(2)} (${f.source})`))
        .join(", "),
      prose(row.source),
    ]),
    "margins",
  );
}

/** "203, 44 treble". */
function shortPlace(x: number, y: number, hand: "right" | "left"): string {
  const toBass = hand === "right" ? y : -y;
  const across = millimetres(Math.abs(toBass), 0);
  return `${millimetres(x, 0)}, ${across === "0" ? "0" : `${across}\u00a0${toBass > 0 ? "bass" : "treble"}`}`;
}

function sayMargin(margin: number): string {
  return margin >= 10 ? margin.toFixed(0) : margin.toFixed(1);
}

/** Bodies or tunings side by side: how bridge and neck block turn, and what each string's action does. */
export function turnTable(
  rows: LoadSheetView["variants"] | LoadSheetView["tunings"],
  kind: "body" | "tuning",
): string {
  const strings = rows[0].actionChange.map((_, i) => i);
  const lowestFirst = [...strings].reverse();
  return table(
    `Turns in degrees; change of the action over fret 12 in mm, the lowest string first`,
    [
      left(kind === "body" ? "Body" : "Tuning"),
      ...(kind === "tuning" ? [left("Notes"), right("Pull")] : []),
      right("Bridge"),
      right("Block tilts"),
      right("twists"),
      ...lowestFirst.map((i) => right(`string ${i + 1}`)),
    ],
    rows.map((row) => [
      escaped(row.name),
      ...("notes" in row ? [escaped(row.notes), formatQuantity(row.totalN, "N", 0)] : []),
      degrees(row.bridgeRotation),
      degrees(row.blockTilt),
      degrees(row.blockTwist),
      ...lowestFirst.map((i) => signed(row.actionChange[i])),
    ]),
  );
}

export function glueTable(glue: GlueLineView): string {
  const range = ({ low, likely, high }: GlueLineView["edgeShear"]) =>
    `${sayMega(likely)} (${sayMega(low)} to ${sayMega(high)})`;
  return table(
    `Bridge glue line, ${escaped(glue.glue)}, ${(glue.area * 1e4).toFixed(0)} cm² glued`,
    [left("What"), right("In the mean"), right("At the rear edge, likely and range")],
    [
      ["shear along the top", sayMega(glue.meanShear), range(glue.edgeShear)],
      ["peel, pulling off", sayMega(glue.meanPeel), range(glue.edgePeel)],
      ["pull of the strings", formatQuantity(glue.pull, "N", 0), ""],
      ["couple toward the nut", `${glue.couple.toFixed(1)} N m`, ""],
      ["all peel gathered on the rear edge", `${(glue.peelPerLength / 1000).toFixed(1)} N/mm`, ""],
    ],
  );
}

export function climateTable({ climates }: LoadSheetView): string {
  return table(
    "Change against the shop's air, the wood long enough in it to follow",
    [
      left("Air"),
      right("RH"),
      right("Warmth"),
      right("Wood's moisture"),
      right("Top at the saddle"),
      right("Action, most moved"),
      right("Least margin across the grain"),
    ],
    climates.map((c) => [
      escaped(c.name),
      `${(100 * c.relativeHumidity).toFixed(0)} %`,
      `${inUnit(c.temperature, "C").toFixed(0)} °C`,
      `${(100 * c.moisture[0]).toFixed(1)} to ${(100 * c.moisture[1]).toFixed(1)} %`,
      c.saddleRise === null ? "not computed" : `${signed(c.saddleRise)} mm`,
      c.actionChange === null ? "not computed" : `${signed(c.actionChange)} mm`,
      c.across === null ? "not known" : `${c.across.margin.toFixed(1)} (${escaped(c.across.part)})`,
    ]),
  );
}

export function creepTable({ creep, load }: LoadSheetView): string {
  const size = load.bridgeRotation === null ? null : Math.abs(load.bridgeRotation);
  const turn = (factor: number) => (size === null ? "" : degrees(size * factor));
  const sources = [...new Set(creep.map(({ range }) => `${range.source}; ${range.validity}`))];
  return `${table(
    "Bridge rotation after years under the same strings, degrees",
    [left("After"), right("Low"), right("Likely"), right("High"), right("Times the elastic turn")],
    creep.map(({ years, range }) => [
      `${years} ${years === 1 ? "year" : "years"}`,
      turn(range.low),
      `<strong>${turn(range.likely)}</strong>`,
      turn(range.high),
      `${range.low.toFixed(1)} to ${range.high.toFixed(1)}`,
    ]),
  )}<p class="note">${prose(sources.join(". "))}.</p>`;
}

export function stringTable({ load }: LoadSheetView): string {
  return table(
    `${load.strings.length} strings, ${formatQuantity(load.totalN, "N", 0)} in all; breaks at so many times its tension, new wire`,
    [left("String"), left("Note"), right("Tension"), right("in kgf"), right("Mass"), right("Breaks at")],
    load.strings.map((s) => [
      String(s.string),
      escaped(s.note),
      formatQuantity(s.tensionN, "N", 0),
      formatQuantity(s.tensionN, "kgf", 1),
      formatQuantity(s.linearDensityKgPerM, "g/m", 2),
      s.breakMargin.toFixed(2),
    ]),
  );
}

function sayMega(stress: number): string {
  return prose(formatQuantity(stress, "MPa", Math.abs(stress) < 1e7 ? 2 : 1)).replace(" ", " ");
}

function degrees(angle: number): string {
  const text = inUnit(angle, "deg").toFixed(2);
  return text.replace("-", "−");
}

/** mm with its sign, to 0.01. */
function signed(length: number): string {
  const text = millimetres(length, 2);
  return length > 0 && Number(text) !== 0 ? `+${text}` : text.replace("-", "−");
}
