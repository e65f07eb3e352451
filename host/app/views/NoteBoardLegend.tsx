import { useId } from "react";
import { HatchPattern } from "./HatchPattern.tsx";
import { bar, DeadMark, NoteBar, Step, WolfMark } from "./NoteCell.tsx";
import { changeWords, inkShare } from "./noteInk.ts";
import type { NoteFigure } from "./viewTypes.ts";

/** What the ink and the marks of the board mean. */
export function NoteBoardLegend({
  figure,
  lanePx,
  middle,
  validToHz,
  hasTrace,
}: {
  readonly figure: NoteFigure;
  readonly lanePx: number;
  readonly middle: number;
  readonly validToHz: number;
  readonly hasTrace: boolean;
}) {
  const hatch = useId();
  const size = Math.max(5.5, Math.min(13, 0.3 * lanePx));
  const [up, down] = changeWords(figure);
  return (
    <ul className="board-legend" aria-label="What the ink says">
      {samples(figure, middle).map(({ value, words }) => (
        <li key={words}>
          <svg width="46" height="28" aria-hidden="true">
            <path
              className="note-ink"
              d={bar(
                [
                  [2, 14],
                  [44, 14],
                ],
                inkShare(value, figure, middle) * lanePx,
                figure === "decay",
              )}
            />
          </svg>
          {words}
        </li>
      ))}
      <li>
        <svg width="28" height="28" aria-hidden="true">
          <WolfMark at={[14, 14]} size={size} />
        </svg>
        wolf, index 1 or more
      </li>
      <li>
        <svg width="28" height="28" aria-hidden="true">
          <DeadMark at={[14, 14]} size={size} />
        </svg>
        dead, index 2 or more
      </li>
      <li>
        <svg width="34" height="28" aria-hidden="true">
          <HatchPattern id={hatch} />
          <rect className="hatch-edge" x="1" y="5" width="32" height="18" fill={`url(#${hatch})`} />
        </svg>
        not foreseen{figure === "level" ? ` (over ${validToHz.toFixed(0)} Hz)` : ""}
      </li>
      {hasTrace ? (
        <>
          <li>
            <svg width="100" height="28" aria-hidden="true">
              <NoteBar
                path={[
                  [2, 14],
                  [46, 14],
                ]}
                ink={5}
                trace={12}
                tapers={false}
                over={false}
              />
              <NoteBar
                path={[
                  [54, 14],
                  [98, 14],
                ]}
                ink={12}
                trace={5}
                tapers={false}
                over={false}
              />
            </svg>
            pale: before the edit
          </li>
          <li>
            <svg width="44" height="28" aria-hidden="true">
              <Step at={[12, 14]} way={1} size={size + 2} />
              <Step at={[32, 14]} way={-1} size={size + 2} />
            </svg>
            {up}, {down}
          </li>
        </>
      ) : null}
    </ul>
  );
}

function samples(
  figure: NoteFigure,
  middle: number,
): readonly { readonly value: number; readonly words: string }[] {
  if (figure === "level")
    return [
      { value: middle - 6, words: "6 dB under the middle" },
      { value: middle, words: `the middle, ${middle.toFixed(0)} dB` },
      { value: middle + 6, words: "6 dB over" },
    ];
  if (figure === "decay")
    return [
      { value: middle / 2, words: `${(middle / 2).toFixed(1)} s` },
      { value: middle, words: `the middle, ${middle.toFixed(1)} s` },
      { value: 2 * middle, words: `${(2 * middle).toFixed(1)} s` },
    ];
  return figure === "wolf"
    ? [
        { value: 0.5, words: "half way to a wolf" },
        { value: 1, words: "index 1, the limit" },
      ]
    : [
        { value: 1, words: "index 1, as its neighbours" },
        { value: 2, words: "index 2, the limit" },
      ];
}
