import type { VoiceView } from "#engine/drawings";
import { modeSigma, sayNote } from "./responseScale.ts";
import type { ModePickerProps } from "./viewTypes.ts";
import "./modes.css";

/** The body modes as a list to choose from: those that carry a shape, with frequency and its range, nearest note, Q and moving mass. */
export function ModePicker({ view, live, chosen, onChoose }: ModePickerProps) {
  const shown = view.modes.flatMap((mode, index) => (mode.topMotion === null ? [] : [{ mode, index }]));
  return (
    <fieldset className="modes">
      <legend>Body modes</legend>
      <div className="modes-head" aria-hidden="true">
        <span />
        <span>Hz</span>
        <span>nearest note</span>
        <span>Q</span>
        <span>moving mass</span>
        <span className="name">name</span>
      </div>
      {shown.map(({ mode, index }) => {
        const at = live?.modes[index];
        return (
          <label key={index} className="mode-line">
            <input
              type="radio"
              name="mode"
              checked={index === chosen}
              onChange={() => onChoose(index)}
              aria-label={sayLine(view, index)}
            />
            <span>
              {at === undefined ? mode.frequencyHz.toFixed(0) : at.frequencyHz.toFixed(1)}{" "}
              <span className="soft">
                {at === undefined
                  ? `± ${modeSigma(view, index).toFixed(0)}`
                  : stepFrom(mode.frequencyHz, at.frequencyHz)}
              </span>
            </span>
            <span>{sayNote(at?.frequencyHz ?? mode.frequencyHz, view.a4 ?? 440)}</span>
            <span>{(at?.q ?? mode.q).toFixed(0)}</span>
            <span>{sayMass(mode.effectiveMassKg)}</span>
            <span className="name">{mode.name}</span>
          </label>
        );
      })}
    </fieldset>
  );
}

/** "+1.3", against the last full voice. */
function stepFrom(was: number, is: number): string {
  const step = is - was;
  return Math.abs(step) < 0.05 ? "" : `${step > 0 ? "+" : "−"}${Math.abs(step).toFixed(1)}`;
}

function sayMass(kg: number | null): string {
  if (kg === null) return "not felt";
  if (kg >= 10) return "over 10 kg";
  return kg >= 0.995 ? `${kg.toFixed(1)} kg` : `${Number((1000 * kg).toPrecision(2))} g`;
}

function sayLine(view: VoiceView, index: number): string {
  const mode = view.modes[index]!;
  return [
    `${mode.frequencyHz.toFixed(0)} hertz plus or minus ${modeSigma(view, index).toFixed(0)}`,
    sayNote(mode.frequencyHz, view.a4 ?? 440),
    `Q ${mode.q.toFixed(0)}`,
    `moving mass ${sayMass(mode.effectiveMassKg)}`,
    ...(mode.name === null ? [] : [mode.name]),
  ].join(", ");
}
