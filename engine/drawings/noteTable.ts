import { isDead, isWolf, type NoteRow } from "#engine/notes";
import { escaped } from "./svg.ts";
import type { ModeView, RangesView } from "./voiceView.ts";

const absent = `<span class="soft">not foreseen</span>`;

/** Every note of the board: one table a string, each folded away until it is wanted. */
export function noteTable(
  rows: readonly NoteRow[],
  modes: readonly ModeView[],
  ranges: RangesView["notes"] | null,
): string {
  const rangeOf = new Map(rows.map((row, i) => [row, ranges?.[i] ?? null]));
  const strings = [...new Set(rows.map((row) => row.string))].sort((a, b) => a - b);
  return strings
    .map((string) => {
      const own = rows.filter((row) => row.string === string).sort((a, b) => a.fret - b.fret);
      const [wolves, dead] = [own.filter(isWolf).length, own.filter(isDead).length];
      const found = [...(wolves > 0 ? [`${wolves} wolf`] : []), ...(dead > 0 ? [`${dead} dead`] : [])].join(
        ", ",
      );
      return (
        `<details class="notes"><summary>String ${string}, ${escaped(own[0].note)}${found === "" ? "" : ` <span class="accent">${found}</span>`}</summary>` +
        `<div class="scroll"><table><thead><tr><th scope="col">Fret</th><th scope="col">Note</th><th scope="col">Hz</th><th scope="col">Level, dB</th><th scope="col">Decay, s</th><th scope="col">Wolf</th><th scope="col">Dead</th><th scope="col" class="left">Strongest body mode</th></tr></thead>` +
        `<tbody>${own.map((row) => line(row, modes, rangeOf.get(row) ?? null)).join("")}</tbody></table></div></details>`
      );
    })
    .join("");
}

function line(row: NoteRow, modes: readonly ModeView[], range: RangesView["notes"][number] | null): string {
  const levelRange = range?.levelDb ?? row.levelRangeDb;
  const decayFactor =
    range?.decayS != null && row.decayS !== null ? 1 + range.decayS / row.decayS : row.decayRangeFactor;
  const level =
    row.levelDb === null
      ? absent
      : `${row.levelDb.toFixed(0)}${levelRange === null ? "" : ` <span class="soft">± ${levelRange.toFixed(0)}</span>`}`;
  const decay =
    row.decayS === null
      ? absent
      : decayFactor === null
        ? row.decayS.toFixed(1)
        : `${row.decayS.toFixed(1)} <span class="soft">${(row.decayS / decayFactor).toFixed(1)} to ${(row.decayS * decayFactor).toFixed(1)}</span>`;
  const wolfRange =
    range?.wolfIndex == null ? "" : ` <span class="soft">± ${range.wolfIndex.toFixed(1)}</span>`;
  const index = (value: number | null, marked: boolean, word: string) =>
    value === null
      ? absent
      : marked
        ? `<strong class="accent">${value.toFixed(1)} ${word}</strong>`
        : value.toFixed(1);
  const cells = [
    row.fret === 0 ? "open" : String(row.fret),
    escaped(row.note),
    row.frequencyHz.toFixed(1),
    level,
    decay,
    index(row.wolfIndex, isWolf(row), "wolf") + (row.wolfIndex === null ? "" : wolfRange),
    index(row.deadIndex, isDead(row), "dead"),
  ];
  return `<tr><th scope="row">${cells[0]}</th>${cells
    .slice(1)
    .map((cell) => `<td>${cell}</td>`)
    .join("")}<td class="left">${blame(row, modes)}</td></tr>`;
}

function blame(row: NoteRow, modes: readonly ModeView[]): string {
  if (row.blame === null) return "";
  const mode = modes[row.blame.modeIndex];
  if (mode === undefined) return "";
  const cents = Math.round(row.blame.centsOff);
  const off = cents === 0 ? "on it" : `${Math.abs(cents)} cents ${cents > 0 ? "over" : "under"} it`;
  return `${escaped(mode.name ?? "mode")} ${mode.frequencyHz.toFixed(0)} Hz, partial ${row.blame.partial}, ${off}`;
}
