import { memo, useId } from "react";
import type { modeSheet } from "#engine/drawings";

/** A drawing of the engine: marks in mm of its sheet. */
type Drawing = NonNullable<ReturnType<typeof modeSheet>>;
type Mark = Drawing["marks"][number];

/** A drawing on the page, in the page's inks, with its caption. */
export const Figure = memo(function Figure({
  drawing,
  caption,
}: {
  readonly drawing: Drawing;
  readonly caption?: string;
}) {
  const id = useId();
  return (
    <figure className="figure">
      <svg
        className="drawing"
        viewBox={`0 0 ${mm(drawing.widthMm)} ${mm(drawing.heightMm)}`}
        role="img"
        aria-labelledby={`${id}t ${id}d`}
      >
        <title id={`${id}t`}>{drawing.title}</title>
        <desc id={`${id}d`}>{drawing.description}</desc>
        <Marks marks={drawing.marks} />
      </svg>
      {caption === undefined ? null : <figcaption>{caption}</figcaption>}
    </figure>
  );
});

function Marks({ marks }: { readonly marks: readonly Mark[] }) {
  // a drawing never changes its own marks, so their places serve as keys
  return marks.map((mark, i) => <MarkShape key={i} mark={mark} />);
}

function MarkShape({ mark }: { readonly mark: Mark }) {
  if (mark.kind === "group")
    return (
      <g data-name={mark.name}>
        {mark.title === undefined ? null : <title>{mark.title}</title>}
        <Marks marks={mark.marks} />
      </g>
    );
  if (mark.kind === "path") {
    if (mark.pieces.length === 0) return null;
    return (
      <path
        d={pathData(mark.pieces, mark.closed)}
        fill={mark.fill === undefined ? "none" : `var(--${mark.fill})`}
        fillRule="evenodd"
        {...(mark.stroke === undefined
          ? {}
          : {
              stroke: `var(--${mark.stroke.ink})`,
              strokeWidth: mark.stroke.widthMm,
              strokeDasharray: mark.stroke.dashMm?.map(mm).join(" "),
            })}
      />
    );
  }
  return (
    <text
      x={mm(mark.xMm)}
      y={mm(mark.yMm)}
      fontSize={mark.sizeMm}
      fill={`var(--${mark.ink})`}
      textAnchor={mark.anchor ?? "start"}
      fontWeight={mark.bold ? 600 : undefined}
      fontStyle={mark.italic ? "italic" : undefined}
      transform={
        mark.turnDeg === undefined ? undefined : `rotate(${mm(mark.turnDeg)} ${mm(mark.xMm)} ${mm(mark.yMm)})`
      }
    >
      {mark.text}
    </text>
  );
}

/** To 0.01 mm. */
function mm(value: number): number {
  return Math.round(100 * value) / 100;
}

function pathData(pieces: readonly Float64Array[], closed: boolean): string {
  let data = "";
  for (const piece of pieces) {
    for (let i = 0; i + 1 < piece.length; i += 2)
      data += `${i === 0 ? "M" : "L"}${mm(piece[i]!)} ${mm(piece[i + 1]!)}`;
    if (closed && piece.length > 0) data += "Z";
  }
  return data;
}
