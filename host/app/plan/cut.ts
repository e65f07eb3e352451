import { domeHeight, type Point, type Polygon, pointInPolygon } from "#engine/geometry";
import type { InstrumentSketch, SketchBrace, SketchPlate } from "#engine/pipeline";

/** A straight cut through the body, upright on the plane of the top's edge: u m along from `at`. */
export interface CutLine {
  readonly at: Point;
  /** Unit direction in plan. */
  readonly along: Point;
}

/** What the knife goes through: closed shapes in (u, z), m. */
export interface Cut {
  readonly top: readonly Polygon[];
  readonly back: readonly Polygon[];
  readonly sides: readonly Polygon[];
  readonly linings: readonly Polygon[];
  readonly blocks: readonly Polygon[];
  readonly patches: readonly Polygon[];
  readonly bridge: readonly Polygon[];
  readonly braces: readonly CutBrace[];
  /** From the first to the last place where the line meets the body's edge. */
  readonly from: number;
  readonly to: number;
}

export interface CutBrace {
  readonly brace: SketchBrace;
  readonly shape: Polygon;
  /** Where the brace stands highest in the cut, (u, z), and how high it is there over its plate. */
  readonly peak: Point;
  readonly height: number;
}

/** Steps along what is cut, m. */
const step = 0.004;

type Stretch = readonly [from: number, to: number];

/** The cut body. */
export function cutBody(sketch: InstrumentSketch, line: CutLine): Cut {
  const { top, back, sides } = sketch;
  const over = heights(sketch);
  const wood = stretches(line, sketch.outline, []);
  const topWood = stretches(line, sketch.outline, [sketch.hole.inside]);
  const inner = stretches(line, sides.inside, []);
  const walls = difference(wood, inner);
  // a lining lies along the wall, as obliquely cut as the wall is
  const lining = (width: number): readonly Stretch[] =>
    walls.flatMap(([from, to]): Stretch[] => {
      const slant = Math.min(6, (to - from) / sides.thickness) * width;
      const after = inner.find(([start]) => Math.abs(start - to) < 1e-6);
      const before = inner.find(([, end]) => Math.abs(end - from) < 1e-6);
      return [
        ...(after === undefined ? [] : [[to, Math.min(to + slant, after[1])] as const]),
        ...(before === undefined ? [] : [[Math.max(from - slant, before[0]), from] as const]),
      ];
    });
  const p = (u: number): Point => [line.at[0] + u * line.along[0], line.at[1] + u * line.along[1]];
  const between = (s: Stretch, low: (at: Point) => number, high: (at: Point) => number): Polygon =>
    ribbon(
      s,
      (u) => low(p(u)),
      (u) => high(p(u)),
    );
  const topInner = (at: Point): number => over.top(at) - top.meanThickness / 2;
  const topOuter = (at: Point): number => over.top(at) + top.meanThickness / 2;
  const backInner = over.back;
  const backOuter = (at: Point): number => over.back(at) - back.meanThickness;
  const noHole = (s: Stretch): boolean => !pointInPolygon(sketch.hole.inside, ...p((s[0] + s[1]) / 2));
  return {
    from: wood[0]?.[0] ?? 0,
    to: wood.at(-1)?.[1] ?? 0,
    top: topWood.map((s) => between(s, topInner, topOuter)),
    back: wood.map((s) => between(s, backOuter, backInner)),
    sides: walls.map((s) => between(s, backInner, topInner)),
    linings: [
      ...lining(sides.topLining.width)
        .filter(noHole)
        .map((s) => between(s, (at) => topInner(at) - sides.topLining.height, topInner)),
      ...lining(sides.backLining.width).map((s) =>
        between(s, backInner, (at) => backInner(at) + sides.backLining.height),
      ),
    ],
    blocks: sketch.blocks.flatMap(({ centre, size }) =>
      stretches(line, rectangle(centre, size), []).map((s) =>
        between(
          s,
          (at) => Math.max(centre[2] - size[2] / 2, backInner(at)),
          (at) => Math.min(centre[2] + size[2] / 2, topInner(at)),
        ),
      ),
    ),
    patches: [
      ...[...top.patches, ...(sketch.bridgePlate === null ? [] : [sketch.bridgePlate])].flatMap((patch) =>
        stretches(line, patch.polygon, [sketch.hole.inside]).map((s) =>
          between(s, (at) => topInner(at) - patch.thickness, topInner),
        ),
      ),
      ...back.patches.flatMap((patch) =>
        stretches(line, patch.polygon, []).map((s) =>
          between(s, backInner, (at) => backInner(at) + patch.thickness),
        ),
      ),
    ],
    bridge: sketch.bridge.parts.flatMap((part) =>
      stretches(line, part.polygon, []).map((s) =>
        between(s, topOuter, (at) => topOuter(at) + part.thickness),
      ),
    ),
    braces: [
      ...top.braces.flatMap((brace) => cutBrace(line, brace, (at, h) => topInner(at) - h, topInner)),
      ...back.braces.flatMap((brace) => cutBrace(line, brace, (at, h) => backInner(at) + h, backInner)),
    ],
  };
}

/** Mid-surface of the top and inner face of the back over the plan, m over the plane of the top's edge. */
export function heights(sketch: Pick<InstrumentSketch, "top" | "back" | "sides" | "length">): {
  readonly top: (at: Point) => number;
  readonly back: (at: Point) => number;
} {
  const { top, back, sides, length } = sketch;
  const over = (plate: Pick<SketchPlate, "dome" | "edgeHeight">, at: Point): number =>
    domeHeight(plate.dome, at[0], at[1]) - plate.edgeHeight;
  return {
    top: (at) => over(top, at),
    back: (at) => {
      const { depthAtTail, depthAtNeck } = sides.rim;
      const depth = depthAtTail + ((depthAtNeck - depthAtTail) * at[0]) / length;
      return -top.meanThickness / 2 - depth - over(back, at);
    },
  };
}

/** Stretches of the line inside a polygon and outside the holes. */
export function stretches(
  { at, along }: CutLine,
  polygon: Polygon,
  holes: readonly Polygon[],
): readonly Stretch[] {
  const meets: number[] = [];
  for (const ring of [polygon, ...holes]) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const side = (k: number): number => (ring[k]! - at[0]) * along[1] - (ring[k + 1]! - at[1]) * along[0];
      const [a, b] = [side(j), side(i)];
      if (a > 0 === b > 0) continue;
      const f = a / (a - b);
      const x = ring[j]! + f * (ring[i]! - ring[j]!);
      const y = ring[j + 1]! + f * (ring[i + 1]! - ring[j + 1]!);
      meets.push((x - at[0]) * along[0] + (y - at[1]) * along[1]);
    }
  }
  meets.sort((a, b) => a - b);
  const out: Stretch[] = [];
  for (let i = 0; i + 1 < meets.length; i++) {
    const [from, to] = [meets[i]!, meets[i + 1]!];
    if (to - from < 1e-6) continue;
    const u = (from + to) / 2;
    const [x, y] = [at[0] + u * along[0], at[1] + u * along[1]];
    if (!pointInPolygon(polygon, x, y) || holes.some((hole) => pointInPolygon(hole, x, y))) continue;
    const last = out.at(-1);
    if (last !== undefined && Math.abs(last[1] - from) < 1e-9) out[out.length - 1] = [last[0], to];
    else out.push([from, to]);
  }
  return out;
}

/** The first list without the second. */
export function difference(whole: readonly Stretch[], taken: readonly Stretch[]): readonly Stretch[] {
  return taken.reduce<readonly Stretch[]>(
    (left, [a, b]) =>
      left.flatMap(([from, to]): Stretch[] => {
        const pieces: Stretch[] = [
          [from, Math.min(to, a)],
          [Math.max(from, b), to],
        ];
        return pieces.filter(([s, e]) => e - s > 1e-6);
      }),
    whole,
  );
}

function ribbon([from, to]: Stretch, low: (u: number) => number, high: (u: number) => number): Polygon {
  const steps = Math.max(1, Math.ceil((to - from) / step));
  const us = Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);
  return Float64Array.from([...us.flatMap((u) => [u, high(u)]), ...us.reverse().flatMap((u) => [u, low(u)])]);
}

function rectangle([x, y]: readonly number[], [along, across]: readonly number[]): Polygon {
  const [a, b] = [along! / 2, across! / 2];
  return Float64Array.of(x! - a, y! - b, x! + a, y! - b, x! + a, y! + b, x! - a, y! + b);
}

/** Share of the full height that a section has, t from -1 to 1 across the glue face. */
export function sectionShare(section: SketchBrace["section"], t: number): number {
  if (section.kind === "rectangular") return 1;
  const rise = section.kind === "triangular" ? 1 - Math.abs(t) : 1 - t * t;
  return section.wall + (1 - section.wall) * rise;
}

/** Height of a brace `s` m from where it begins on the plate. */
export function heightAlong(heights: Float64Array, s: number): number {
  for (let i = 2; i < heights.length; i += 2) {
    if (heights[i]! < s) continue;
    const [s0, h0, s1, h1] = heights.subarray(i - 2, i + 2);
    return s1! > s0! ? h0! + ((h1! - h0!) * (s - s0!)) / (s1! - s0!) : h1!;
  }
  return heights.at(-1) ?? 0;
}

function cutBrace(
  line: CutLine,
  brace: SketchBrace,
  tipOf: (at: Point, height: number) => number,
  footOf: (at: Point) => number,
): readonly CutBrace[] {
  return brace.pieces.flatMap((piece): readonly CutBrace[] => {
    const [ax, ay, bx, by] = piece.path;
    const length = Math.hypot(bx! - ax!, by! - ay!);
    const [ux, uy] = [(bx! - ax!) / length, (by! - ay!) / length];
    const half = brace.width / 2;
    const bar = Float64Array.of(
      ax! - half * uy,
      ay! + half * ux,
      ax! + half * uy,
      ay! - half * ux,
      bx! + half * uy,
      by! - half * ux,
      bx! - half * uy,
      by! + half * ux,
    );
    return stretches(line, bar, []).map(([from, to]): CutBrace => {
      const steps = Math.max(8, Math.ceil((to - from) / step));
      const crest: number[] = [];
      const foot: number[] = [];
      let best = { u: from, z: 0, height: -1 };
      for (let i = 0; i <= steps; i++) {
        const u = from + ((to - from) * i) / steps;
        const at: Point = [line.at[0] + u * line.along[0], line.at[1] + u * line.along[1]];
        const [dx, dy] = [at[0] - ax!, at[1] - ay!];
        const s = Math.min(length, Math.max(0, dx * ux + dy * uy));
        const t = Math.max(-1, Math.min(1, (dy * ux - dx * uy) / half));
        const height = heightAlong(brace.heights, piece.start + s) * sectionShare(brace.section, t);
        const z = tipOf(at, height);
        crest.push(u, z);
        foot.unshift(u, footOf(at));
        if (height > best.height) best = { u, z, height };
      }
      return {
        brace,
        shape: Float64Array.from([...crest, ...foot]),
        peak: [best.u, best.z],
        height: best.height,
      };
    });
  });
}
