import type { Point } from "#engine/geometry";
import type { InstrumentSketch } from "#engine/pipeline";
import { useBench } from "../bench/index.ts";
import { onSheet, type Place, type SheetLayout, type View } from "./sheetLayout.ts";
import { type SheetView, type Size, toScreen } from "./sheetView.ts";
import { shownLength, type Units } from "./typed.ts";

interface Dimension {
  readonly view: View;
  readonly from: Point;
  readonly to: Point;
  /** Which way the dimension line is set off from its ends, and how far, px. */
  readonly away: Point;
  readonly offPx: number;
  /** Where along the line its words stand. */
  readonly share: number;
  readonly words: string;
}

/** Main dimensions, on demand: lettering and ticks keep their size whatever the scale. */
export function DimensionMarks({
  drawn,
  layout,
  view,
  size,
}: {
  readonly drawn: InstrumentSketch;
  readonly layout: SheetLayout;
  readonly view: SheetView;
  readonly size: Size;
}) {
  const units = useBench((bench) => bench.preferences.units);
  return (
    <g className="dimensions">
      {dimensionsOf(drawn, units).map((dimension) => (
        <DimensionMark
          key={`${dimension.view} ${dimension.offPx} ${dimension.from[0]} ${dimension.to[0]}`}
          dimension={dimension}
          screen={(at) => toScreen(view, layout.hand, size, onSheet(layout, dimension.view, at))}
        />
      ))}
    </g>
  );
}

/** From the body's edge to the first of the stacked dimensions, and from one to the next, px. */
const firstPx = 18;
const nextPx = 20;

function dimensionsOf(drawn: InstrumentSketch, units: Units): readonly Dimension[] {
  const { sides, length, top } = drawn;
  const say = (value: number): string => shownLength(value, units);
  const widths = widest(drawn.fullOutline, length);
  const treble = Math.min(...drawn.outline.filter((_, i) => i % 2 === 1));
  const stacked = [...widths.map(([x]) => x), length].sort((p, q) => p - q);
  const under = -top.meanThickness / 2;
  const depth = (x: number, deep: number, way: 1 | -1): Dimension => ({
    view: "side",
    from: [x, under],
    to: [x, under - deep],
    away: [way, 0],
    offPx: 22,
    share: 0.5,
    words: say(deep),
  });
  return [
    ...stacked.map(
      (x, i): Dimension => ({
        view: "plan",
        from: [0, treble],
        to: [x, treble],
        away: [0, -1],
        offPx: firstPx + i * nextPx,
        share: 0.5,
        words: say(x),
      }),
    ),
    ...widths.map(
      ([x, right, left]): Dimension => ({
        view: "plan",
        from: [x, right],
        to: [x, left],
        away: [1, 0],
        offPx: 0,
        share: 0.2,
        words: say(left - right),
      }),
    ),
    depth(0, sides.depthAtTail, -1),
    depth(length, sides.depthAtNeck, 1),
  ];
}

type Width = readonly [x: number, right: number, left: number];

/** Lower bout, waist, upper bout: stations where the whole width is most or least. */
function widest(outline: Float64Array, length: number): readonly Width[] {
  const steps = 240;
  const rows: { x: number; right: number; left: number }[] = [];
  for (let i = 1; i < steps; i++) {
    const x = (length * i) / steps;
    let [right, left] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let k = 0, j = outline.length - 2; k < outline.length; j = k, k += 2) {
      const [x0, x1] = [outline[j]!, outline[k]!];
      if (x0 < x === x1 < x) continue;
      const y = outline[j + 1]! + ((x - x0) / (x1 - x0)) * (outline[k + 1]! - outline[j + 1]!);
      right = Math.min(right, y);
      left = Math.max(left, y);
    }
    rows.push({ x, right, left });
  }
  const width = (i: number): number => rows[i]!.left - rows[i]!.right;
  const turns: Width[] = [];
  for (let i = 2; i + 2 < rows.length && turns.length < 3; i++) {
    const most = width(i) >= width(i - 1) && width(i) > width(i + 1);
    const least = width(i) <= width(i - 1) && width(i) < width(i + 1);
    const wanted = turns.length === 1 ? least : most;
    const { x, right, left } = rows[i]!;
    if (wanted) turns.push([x, right, left]);
  }
  return turns;
}

function DimensionMark({
  dimension,
  screen,
}: {
  readonly dimension: Dimension;
  readonly screen: (at: Point) => Place;
}) {
  const { from, to, away, offPx, share, words } = dimension;
  const [a, b, toward] = [screen(from), screen(to), screen([from[0] + away[0], from[1] + away[1]])];
  const long = Math.hypot(toward[0] - a[0], toward[1] - a[1]);
  const shift = [((toward[0] - a[0]) / long) * offPx, ((toward[1] - a[1]) / long) * offPx] as const;
  const [p, q] = [a, b].map(([x, y]): Place => [x + shift[0], y + shift[1]]) as [Place, Place];
  let angle = (Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI;
  if (angle > 90 || angle <= -90) angle += angle > 0 ? -180 : 180;
  const [x, y] = [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])];
  const tick = ([u, v]: Place): string => `M${u - 4} ${v + 4}L${u + 4} ${v - 4}`;
  return (
    <g>
      <path
        className="dimension"
        d={`M${p[0]} ${p[1]}L${q[0]} ${q[1]}${tick(p)}${tick(q)}${offPx === 0 ? "" : `M${a[0]} ${a[1]}L${p[0]} ${p[1]}M${b[0]} ${b[1]}L${q[0]} ${q[1]}`}`}
      />
      <text
        className="label"
        x={x}
        y={y - 5}
        textAnchor="middle"
        transform={`rotate(${angle.toFixed(2)} ${x} ${y})`}
      >
        {words}
      </text>
    </g>
  );
}
