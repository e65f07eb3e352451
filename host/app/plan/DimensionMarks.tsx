import type { OutlineSpec, Point } from "#engine/geometry";
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
  const { outline } = drawn.shape;
  const widths = outline.kind === "dimensions" ? stated(outline) : widest(drawn.fullOutline, length);
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

function stated(outline: Extract<OutlineSpec, { kind: "dimensions" }>): readonly Width[] {
  return (["lowerBout", "waist", "upperBout"] as const).map((bout): Width => {
    const { station, width } = outline[bout];
    const outward = (side: "bass" | "treble"): number => outline.asymmetry?.[side]?.[bout]?.outward ?? 0;
    return [station, -width / 2 - outward("treble"), width / 2 + outward("bass")];
  });
}

/** Lower bout, waist, upper bout: where each side is widest or narrowest, told at the mean of both stations. */
function widest(outline: Float64Array, length: number): readonly Width[] {
  const bass = extremes(outline, 1, length);
  const treble = extremes(outline, -1, length);
  return bass.flatMap(([x, left], i): Width[] => {
    const other = treble[i];
    return other === undefined ? [] : [[(x + other[0]) / 2, other[1], left]];
  });
}

/** Corners of the outline lie on the curve: a parabola through the three about an extreme tells it to a micrometre. */
function extremes(outline: Float64Array, sign: 1 | -1, length: number): readonly Point[] {
  const n = outline.length / 2;
  const at = (i: number): Point => [outline[2 * ((i + n) % n)]!, sign * outline[2 * ((i + n) % n) + 1]!];
  const found: Point[] = [];
  for (let i = 0; i < n; i++) {
    const [[x0, y0], [x1, y1], [x2, y2]] = [at(i - 1), at(i), at(i + 1)];
    if (y1 <= 0.05 * length || (y1 - y0) * (y2 - y1) > 0 || y1 === y0) continue;
    const [s0, s2] = [(y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)];
    const bend = (s2 - s0) / (x2 - x0);
    const slope = s0 + bend * (x1 - x0);
    found.push([x1 - slope / (2 * bend), sign * (y1 - slope ** 2 / (4 * bend))]);
  }
  return found.sort((p, q) => p[0] - q[0]);
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
