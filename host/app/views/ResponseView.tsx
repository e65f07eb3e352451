import { type KeyboardEvent, type PointerEvent, useId, useMemo, useState } from "react";
import { cursorStep } from "./cursorStep.ts";
import { ResponseGround } from "./ResponseGround.tsx";
import { ResponseReadout } from "./ResponseReadout.tsx";
import { ResponseTable } from "./ResponseTable.tsx";
import { responseFrame } from "./responseFrame.ts";
import { frequencyAt } from "./responseScale.ts";
import { useWidth } from "./useWidth.ts";
import type { ResponseViewProps } from "./viewTypes.ts";
import "./response.css";

/**
 * What the body answers to a force at the saddle: its speed and the sound at 1 m, over an axis of notes and hertz, with body
 * modes, their ranges and the open strings marked. A second guitar lies over it dashed. A cursor reads any place.
 */
export function ResponseView({ view, other, live }: ResponseViewProps) {
  const [box, width] = useWidth<HTMLDivElement>();
  const [at, setAt] = useState(110);
  const help = useId();
  const frame = useMemo(
    () => responseFrame(view, other?.view ?? null, Math.max(320, width)),
    [view, other?.view, width],
  );
  const { low, high, left, right, heightPx } = frame;
  const cursor = Math.min(high, Math.max(low, at));
  const follow = (event: PointerEvent<HTMLDivElement>) => {
    const { left: edge } = event.currentTarget.getBoundingClientRect();
    setAt(frequencyAt(event.clientX - edge, low, high, left, right));
  };
  const step = (event: KeyboardEvent) => {
    const next = cursorStep(event.key, event.shiftKey, cursor, view.modes, low, high);
    if (next === null) return;
    event.preventDefault();
    setAt(next);
  };
  const x = frame.x(cursor);
  return (
    <div className="response">
      <div
        className="response-sheet"
        ref={box}
        style={{ height: heightPx }}
        onPointerMove={follow}
        onPointerDown={follow}
      >
        {width === 0 ? null : (
          <>
            <ResponseGround frame={frame} view={view} other={other ?? null} live={live} />
            <svg width={frame.widthPx} height={heightPx} className="cursor" aria-hidden="true">
              <path className="cursor-line" d={`M${x} ${frame.top}V${frame.axisY}`} />
              {frame.dotsAt(cursor).map(({ y, second }) => (
                <circle
                  key={`${second}${y}`}
                  className={second ? "dot second" : "dot"}
                  cx={x}
                  cy={y}
                  r="4.5"
                />
              ))}
            </svg>
            <div
              className="cursor-handle"
              style={{ left: x - 22, top: frame.axisY - 22 }}
              role="slider"
              tabIndex={0}
              aria-label="Place read on the frequency axis"
              aria-valuemin={Math.round(low)}
              aria-valuemax={Math.round(high)}
              aria-valuenow={Math.round(cursor)}
              aria-valuetext={frame.say(cursor)}
              aria-describedby={help}
              onKeyDown={step}
            />
          </>
        )}
      </div>
      <p className="unseen" id={help}>
        Arrow keys move a quarter of a semitone, with Shift a semitone; Page Up and Page Down go from mode to
        mode.
      </p>
      <ResponseReadout frame={frame} view={view} other={other ?? null} at={cursor} />
      <ResponseTable view={view} other={other ?? null} />
    </div>
  );
}
