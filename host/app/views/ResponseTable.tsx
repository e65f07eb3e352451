import { useState } from "react";
import type { VoiceView } from "#engine/drawings";
import { levelCurve, naturalNotes, saySpeed, speedCurve, valueAt } from "./responseScale.ts";
import type { OtherResponse } from "./viewTypes.ts";

/** The curves at every natural note. */
export function ResponseTable({
  view,
  other,
}: {
  readonly view: VoiceView;
  readonly other: OtherResponse | null;
}) {
  const [open, setOpen] = useState(false);
  return (
    <details className="as-table" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>The curves note by note</summary>
      {open ? <CurveTable view={view} other={other} /> : null}
    </details>
  );
}

function CurveTable({ view, other }: { readonly view: VoiceView; readonly other: OtherResponse | null }) {
  const shown = [{ name: view.title, view }, ...(other === null ? [] : [other])].map(
    ({ name, view: of }) => ({
      name,
      speed: speedCurve(of),
      level: levelCurve(of),
    }),
  );
  const notes = naturalNotes(view.response.frequency[0] ?? 60, view.modesToHz, view.a4 ?? 440);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by key
    <section className="scroll" tabIndex={0} aria-label="The curves note by note">
      <table className="table">
        <thead>
          <tr>
            <th scope="col">Note</th>
            <th scope="col">Hz</th>
            {shown.flatMap(({ name }) => [
              <th key={`${name} v`} scope="col">
                Speed for 1 N{shown.length > 1 ? `, ${name}` : ""}
              </th>,
              <th key={`${name} p`} scope="col">
                Level at 1 m{shown.length > 1 ? `, ${name}` : ""}
              </th>,
            ])}
          </tr>
        </thead>
        <tbody>
          {notes.map(({ note, frequency }) => (
            <tr key={note}>
              <th scope="row">{note}</th>
              <td>{frequency.toFixed(0)}</td>
              {shown.flatMap(({ name, speed, level }) => {
                const [v, dB] = [valueAt(speed, frequency), valueAt(level, frequency)];
                return [
                  <td key={`${name} v`}>{v === null ? "not foreseen" : saySpeed(v)}</td>,
                  <td key={`${name} p`}>{dB === null ? "not foreseen" : `${dB.toFixed(0)} dB`}</td>,
                ];
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
