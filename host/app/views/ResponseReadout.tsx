import type { VoiceView } from "#engine/drawings";
import { centsBetween } from "#engine/verdicts";
import type { ResponseFrame } from "./responseFrame.ts";
import { modeSigma, sayNote, saySpeed, valueAt } from "./responseScale.ts";
import type { OtherResponse } from "./viewTypes.ts";

/** What the cursor reads: the place, both curves, the nearest mode. */
export function ResponseReadout({
  frame,
  view,
  other,
  at,
}: {
  readonly frame: ResponseFrame;
  readonly view: VoiceView;
  readonly other: OtherResponse | null;
  readonly at: number;
}) {
  const { curves } = frame;
  const a4 = view.a4 ?? 440;
  return (
    <dl className="response-readout">
      <div>
        <dt>At the cursor</dt>
        <dd>
          <strong>{sayNote(at, a4)}</strong> {at.toFixed(at < 200 ? 1 : 0)} Hz
        </dd>
      </div>
      <div>
        <dt>Saddle's speed for 1 N</dt>
        <dd>
          {speedWords(valueAt(curves.speed, at))}
          {curves.otherSpeed === null ? null : (
            <span className="second-value"> dashed {speedWords(valueAt(curves.otherSpeed, at))}</span>
          )}
        </dd>
      </div>
      <div>
        <dt>Level at 1 m for 1 N</dt>
        <dd>
          {levelWords(valueAt(curves.level, at))}
          {curves.otherLevel === null ? null : (
            <span className="second-value"> dashed {levelWords(valueAt(curves.otherLevel, at))}</span>
          )}
        </dd>
      </div>
      <div>
        <dt>Nearest mode</dt>
        <dd>{nearestMode(view, at)}</dd>
      </div>
      {other === null ? null : (
        <div>
          <dt>Curves</dt>
          <dd className="curve-names">
            <span>
              <svg width="34" height="10" aria-hidden="true">
                <path className="curve" d="M0 5H34" />
              </svg>{" "}
              {view.title}
            </span>
            <span className="second-value">
              <svg width="34" height="10" aria-hidden="true">
                <path className="curve second" d="M0 5H34" />
              </svg>{" "}
              {other.name}
            </span>
          </dd>
        </div>
      )}
    </dl>
  );
}

function speedWords(value: number | null): string {
  return value === null ? "not foreseen" : saySpeed(value);
}

function levelWords(value: number | null): string {
  return value === null ? "not foreseen" : `${value.toFixed(0)} dB`;
}

function nearestMode(view: VoiceView, at: number): string {
  let best = -1;
  view.modes.forEach(({ frequencyHz }, i) => {
    if (
      best < 0 ||
      Math.abs(Math.log(frequencyHz / at)) < Math.abs(Math.log(view.modes[best]!.frequencyHz / at))
    )
      best = i;
  });
  const mode = view.modes[best];
  if (mode === undefined) return "none";
  const cents = Math.round(centsBetween(mode.frequencyHz, at));
  const off = cents === 0 ? "on it" : `${Math.abs(cents)} cents ${cents > 0 ? "over" : "under"} it`;
  const name = mode.name === null ? "" : `${mode.name}, `;
  return `${name}${mode.frequencyHz.toFixed(0)} ± ${modeSigma(view, best).toFixed(0)} Hz, Q ${mode.q.toFixed(0)}; ${off}`;
}
