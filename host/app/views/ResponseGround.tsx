import { memo, useId } from "react";
import type { VoiceView } from "#engine/drawings";
import type { LivePicture } from "../desk/deskTypes.ts";
import { HatchPattern } from "./HatchPattern.tsx";
import type { Panel, ResponseFrame } from "./responseFrame.ts";
import { modeSigma } from "./responseScale.ts";
import type { OtherResponse } from "./viewTypes.ts";

/** The charts themselves: axis of notes and hertz, curves, modes with their ranges, open strings. */
export const ResponseGround = memo(function ResponseGround({
  frame,
  view,
  other,
  live,
}: {
  readonly frame: ResponseFrame;
  readonly view: VoiceView;
  readonly other: OtherResponse | null;
  readonly live: LivePicture | null;
}) {
  const hatch = useId();
  const { low, high, speed, level } = frame;
  return (
    <svg
      width={frame.widthPx}
      height={frame.heightPx}
      role="img"
      aria-label={`Response from ${low.toFixed(0)} to ${high.toFixed(0)} Hz: speed of the saddle for a force of 1 N, foreseen to ${view.modesToHz.toFixed(0)} Hz, and level at 1 m, foreseen to ${view.validToHz.toFixed(0)} Hz${other === null ? "" : `; ${other.name} dashed over it`}. The cursor and the tables below give the figures.`}
    >
      <HatchPattern id={hatch} />
      <Axis frame={frame} />
      <PanelGround frame={frame} panel={speed} hatch={hatch} title="saddle's speed, mm/s for 1 N" />
      <PanelGround frame={frame} panel={level} hatch={hatch} title="level at 1 m, dB for 1 N" />
      <OpenStrings frame={frame} />
      <Modes frame={frame} view={view} live={live} />
      {[speed, level].map((panel) => (
        <g key={panel.top}>
          {panel.otherPath === null ? null : <path className="curve second" d={panel.otherPath} />}
          <path className="curve" d={panel.path} />
        </g>
      ))}
    </svg>
  );
});

function Axis({ frame }: { readonly frame: ResponseFrame }) {
  const { x, axisY, left, right, speed, level } = frame;
  const narrow = right - left < 700;
  return (
    <g>
      {frame.notes.map(({ frequency, note, isC }) => {
        const at = x(frequency);
        // B stands too close to the C that carries the octave's number, E to F where the sheet is narrow
        const named = isC || !(note.startsWith("B") || (narrow && /^[EF]/.test(note)));
        return (
          <g key={note}>
            <path
              className={isC ? "grid c" : "grid"}
              d={`M${at} ${speed.top}V${speed.bottom}M${at} ${level.top}V${axisY}`}
            />
            {named ? (
              <text className={isC ? "note-name c" : "note-name"} x={at} y={axisY + 20} textAnchor="middle">
                {isC ? note : note[0]}
              </text>
            ) : null}
          </g>
        );
      })}
      <path className="hertz-line" d={`M${left} ${axisY + 31}H${right}`} />
      {frame.hertz.map((f) => (
        <g key={f}>
          <path className="hertz-line" d={`M${x(f)} ${axisY + 31}v5`} />
          <text className="hertz" x={x(f)} y={axisY + 52} textAnchor="middle">
            {f}
          </text>
        </g>
      ))}
      <text className="hertz" x={left - 12} y={axisY + 20} textAnchor="end">
        note
      </text>
      <text className="hertz" x={left - 12} y={axisY + 52} textAnchor="end">
        Hz
      </text>
    </g>
  );
}

function PanelGround({
  frame,
  panel,
  hatch,
  title,
}: {
  readonly frame: ResponseFrame;
  readonly panel: Panel;
  readonly hatch: string;
  readonly title: string;
}) {
  const { left, right, x } = frame;
  const [width, height] = [right - left, panel.bottom - panel.top];
  const from = Math.max(left, x(panel.to));
  return (
    <g>
      {panel.lines.map(({ y, text }) => (
        <g key={text}>
          <path className="grid c" d={`M${left} ${y}H${right}`} />
          <text className="scale" x={left - 8} y={y} dominantBaseline="central" textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      {from < right - 1 ? (
        <>
          <rect x={from} y={panel.top} width={right - from} height={height} fill={`url(#${hatch})`} />
          <path className="limit" d={`M${from} ${panel.top}V${panel.bottom}`} />
        </>
      ) : null}
      <rect className="frame" x={left} y={panel.top} width={width} height={height} />
      <text className="panel-title" x={left + 8} y={panel.bottom - 9}>
        {title}
      </text>
    </g>
  );
}

/** Fundamentals of the open strings in the strip between the charts. */
function OpenStrings({ frame }: { readonly frame: ResponseFrame }) {
  const { speed, level, x, left } = frame;
  return (
    <g>
      <text className="hertz" x={left - 12} y={(speed.bottom + level.top) / 2 + 5} textAnchor="end">
        open
      </text>
      {frame.strings.map(({ string, note, frequency }) => {
        const at = x(frequency);
        return (
          <g key={string}>
            <path className="open-string" d={`M${at} ${speed.bottom}v9M${at} ${level.top}v-9`} />
            <text className="open-note" x={at} y={(speed.bottom + level.top) / 2 + 5} textAnchor="middle">
              {note}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** A tick for every mode; names and one sigma of range for those that have one; under the hand, where they have gone. */
function Modes({
  frame,
  view,
  live,
}: {
  readonly frame: ResponseFrame;
  readonly view: VoiceView;
  readonly live: LivePicture | null;
}) {
  const { x, low, high, speed, left, right } = frame;
  const within = (f: number) => f >= low && f <= Math.min(high, view.modesToHz);
  return (
    <g>
      {view.modes.map(({ frequencyHz, name }, i) =>
        within(frequencyHz) ? (
          <path
            key={i}
            className={name === null ? "mode" : "mode named"}
            d={`M${x(frequencyHz)} ${speed.top - 9}V${speed.top}`}
          />
        ) : null,
      )}
      {frame.names.map(({ index, text, at, row }) => {
        const f = view.modes[index]!.frequencyHz;
        const sigma = modeSigma(view, index);
        const y = speed.top - 18 - 20 * row;
        const [a, b] = [Math.max(left, x(Math.max(low, f - sigma))), Math.min(right, x(f + sigma))];
        return (
          <g key={index}>
            <path className="mode-range" d={`M${a} ${y + 5}H${b}`} />
            <path className="mode-lead" d={`M${x(f)} ${y + 5}V${speed.top - 9}`} />
            <text className="mode-name" x={at} y={y} textAnchor="middle">
              {text}
            </text>
          </g>
        );
      })}
      {live?.modes.map(({ frequencyHz }, i) => {
        const was = view.modes[i]?.frequencyHz;
        return was !== undefined && within(frequencyHz) ? (
          <path
            key={i}
            className="mode-live"
            d={`M${x(was)} ${speed.top}L${x(frequencyHz)} ${speed.top + 12}v10`}
          />
        ) : null;
      })}
    </g>
  );
}
