import { memo } from "react";
import type { Handle } from "./handle.ts";
import type { Place } from "./sheetLayout.ts";

/** Largest distance of a finger from a handle that it still takes, px. */
const fingerPx = 22;

/** One handle: a mark that shows what it is, a wide unseen place to take it by, a name and a value to be heard. */
export const HandleMark = memo(function HandleMark({
  handle,
  at,
  words,
  turnDeg,
  held,
  refused,
  onKey,
  onFocus,
}: {
  readonly handle: Handle;
  readonly at: Place;
  readonly words: string;
  /** Of the free direction on the screen. */
  readonly turnDeg: number;
  readonly held: boolean;
  readonly refused: boolean;
  readonly onKey: (handle: Handle, event: React.KeyboardEvent) => void;
  readonly onFocus: (handle: Handle) => void;
}) {
  const value = Math.round(10000 * (handle.free[0] ? handle.at[0] : handle.at[1])) / 10;
  return (
    <g
      className={`handle handle-${handle.look}${held ? " held" : ""}${refused ? " refused" : ""}${handle.free[0] || handle.free[1] ? "" : " fixed"}`}
      transform={`translate(${at[0]} ${at[1]})`}
      data-handle={handle.id}
      role="slider"
      tabIndex={0}
      aria-label={handle.name}
      aria-valuenow={value}
      aria-valuemin={-2000}
      aria-valuemax={2000}
      aria-valuetext={words}
      onKeyDown={(event) => onKey(handle, event)}
      onFocus={() => onFocus(handle)}
    >
      <circle className="take" r={fingerPx} />
      <g transform={`rotate(${turnDeg})`}>
        <Look look={handle.look} />
      </g>
    </g>
  );
});

function Look({ look }: { readonly look: Handle["look"] }) {
  switch (look) {
    case "end":
      return <rect className="look" x={-5} y={-5} width={10} height={10} />;
    case "whole":
      return (
        <path
          className="look"
          d="M-9 0H9M0-9V9M-9 0l3-3M-9 0l3 3M9 0l-3-3M9 0l-3 3M0-9l-3 3M0-9l3 3M0 9l-3-3M0 9l3-3"
        />
      );
    case "weight":
      return <path className="look solid" d="M-6-3.5Q0-8 6-3.5L4.5 6H-4.5Z" />;
    case "turn":
      return <path className="look" d="M-7 2A7 7 0 1 1 5 5.5M5 5.5l-1-5M5 5.5l4.6-2" />;
    case "height":
      return <path className="look" d="M0-9V9M0-9l-3.5 4M0-9l3.5 4M0 9l-3.5-4M0 9l3.5-4" />;
  }
}

/** What a handle is held against: the line or the place that draws it, and its name. */
export function SnapMark({
  from,
  to,
  at,
  words,
}: {
  /** Ends of a line across the window; null: a place. */
  readonly from: Place | null;
  readonly to: Place | null;
  readonly at: Place;
  readonly words: string;
}) {
  return (
    <g className="snap">
      {from === null || to === null ? (
        <circle className="snap-line" cx={at[0]} cy={at[1]} r={14} />
      ) : (
        <path className="snap-line" d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`} />
      )}
      <text className="label accent" x={at[0] + 18} y={at[1] + 30}>
        {words}
      </text>
    </g>
  );
}
