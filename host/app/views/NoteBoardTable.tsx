import { useState } from "react";
import type { VoiceView } from "#engine/drawings";
import { isDead, isWolf, type NoteRow } from "#engine/notes";
import type { LivePicture } from "../desk/deskTypes.ts";
import { noteWords, rangeOf } from "./noteWords.ts";

/** The board as a table, string by string: the same figures for those who do not see the drawing. */
export function NoteBoardTable({
  rows,
  view,
  live,
}: {
  readonly rows: readonly NoteRow[];
  readonly view: VoiceView;
  readonly live: LivePicture | null;
}) {
  const [open, setOpen] = useState(false);
  const strings = open ? [...new Set(rows.map((row) => row.string))].sort((a, b) => a - b) : [];
  return (
    <details className="as-table" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>All notes as tables</summary>
      {strings.map((string) => (
        <StringTable
          key={string}
          rows={rows.filter((row) => row.string === string)}
          view={view}
          live={live}
        />
      ))}
    </details>
  );
}

function StringTable({
  rows,
  view,
  live,
}: {
  readonly rows: readonly NoteRow[];
  readonly view: VoiceView;
  readonly live: LivePicture | null;
}) {
  const [first] = rows;
  if (first === undefined) return null;
  const [wolves, dead] = [rows.filter(isWolf).length, rows.filter(isDead).length];
  const found = [...(wolves > 0 ? [`${wolves} wolf`] : []), ...(dead > 0 ? [`${dead} dead`] : [])].join(", ");
  return (
    <details className="as-table">
      <summary>
        String {first.string}, {first.note} {found === "" ? null : <span className="accent">{found}</span>}
      </summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by key */}
      <section className="scroll" tabIndex={0} aria-label={`Notes of string ${first.string}`}>
        <table className="table">
          <thead>
            <tr>
              {["Fret", "Note", "Pitch", "Level", "Decay", "Wolf index", "Dead index"].map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
              <th scope="col" className="words">
                Strongest body mode
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => {
              const words = noteWords(row, rangeOf(view, row, live !== null), live?.modes ?? view.modes);
              return (
                <tr key={row.fret}>
                  <th scope="row">{row.fret === 0 ? "open" : row.fret}</th>
                  <td>{words.note}</td>
                  <td>{words.pitch}</td>
                  <td>{words.level}</td>
                  <td>{words.decay}</td>
                  <td>{words.wolf}</td>
                  <td>{words.dead}</td>
                  <td className="words">{words.blame ?? ""}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </section>
    </details>
  );
}
