import { nearestOnPolyline, type Polygon } from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import type { ShellMesh } from "../shellMesh.ts";
import type { BodyShellSpec } from "./bodySpec.ts";
import { nominalThickness, type PlateHeight } from "./plateMesh.ts";
import { sideLine } from "./plateSeat.ts";

/** One ring of side nodes: arc length along the side's mid-line, and the plate's node it shares (-1: its own). */
export interface RingPlaces {
  readonly s: Float64Array;
  readonly plateNode: Int32Array;
}

/** The closed mid-line of the side in plan, with places by arc length. */
export interface SideCurve {
  readonly polygon: Polygon;
  readonly length: number;
  at(s: number): readonly [x: number, y: number];
  /** Arc length of the nearest place, and the distance to it. */
  nearest(x: number, y: number): { readonly s: number; readonly distance: number };
}

export function sideCurve(polygon: Polygon): SideCurve {
  const n = polygon.length / 2;
  const run = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    run[i + 1] =
      run[i] + Math.hypot(polygon[2 * j] - polygon[2 * i], polygon[2 * j + 1] - polygon[2 * i + 1]);
  }
  const length = run[n];
  return {
    polygon,
    length,
    at: (s) => {
      const t = ((s % length) + length) % length;
      let low = 0;
      let high = n - 1;
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if (run[middle] <= t) low = middle;
        else high = middle - 1;
      }
      const f = (t - run[low]) / (run[low + 1] - run[low]);
      const j = (low + 1) % n;
      return [
        polygon[2 * low] + f * (polygon[2 * j] - polygon[2 * low]),
        polygon[2 * low + 1] + f * (polygon[2 * j + 1] - polygon[2 * low + 1]),
      ];
    },
    nearest: (x, y) => {
      const near = nearestOnPolyline(polygon, x, y, true);
      return {
        s: run[near.edge] + near.fraction * (run[near.edge + 1] - run[near.edge]),
        distance: near.distance,
      };
    },
  };
}

/**
 * The plate's outer edge nodes that lie on the side's mid-line, in order of arc length, and own nodes across the
 * stretches where the plate is cut away (the hole meets the edge). Fails: 'plate-off-sides' if less than half of the
 * side's length carries the plate.
 */
export function plateRing(
  curve: SideCurve,
  mesh: ShellMesh,
  which: string,
  size: number,
): Outcome<RingPlaces> {
  const loop = mesh.boundary[0];
  const tolerance = 1e-3 * size + 1e-7 * curve.length;
  const on: { s: number; node: number }[] = [];
  for (const node of loop) {
    const { s, distance } = curve.nearest(mesh.nodes[3 * node], mesh.nodes[3 * node + 1]);
    if (distance < tolerance) on.push({ s, node });
  }
  on.sort((a, b) => a.s - b.s);
  const next = new Map<number, number>();
  loop.forEach((node, k) => {
    next.set(node, loop[(k + 1) % loop.length]);
  });
  const s: number[] = [];
  const plateNode: number[] = [];
  let joined = 0;
  on.forEach((a, k) => {
    const b = on[(k + 1) % on.length];
    s.push(a.s);
    plateNode.push(a.node);
    const gap = b.s - a.s + (k + 1 === on.length ? curve.length : 0);
    const chord = Math.hypot(
      mesh.nodes[3 * a.node] - mesh.nodes[3 * b.node],
      mesh.nodes[3 * a.node + 1] - mesh.nodes[3 * b.node + 1],
    );
    if (next.get(a.node) === b.node && gap < 1.6 * chord) {
      joined += gap;
      return;
    }
    const pieces = Math.max(1, Math.round(gap / size));
    for (let p = 1; p < pieces; p++) {
      s.push((a.s + (gap * p) / pieces) % curve.length);
      plateNode.push(-1);
    }
  });
  if (!(joined > 0.5 * curve.length)) {
    return failed(
      "plate-off-sides",
      `the ${which} meets the sides along ${joined.toPrecision(3)} of ${curve.length.toPrecision(3)} m only`,
    );
  }
  return done(rotated(s, plateNode));
}

/** The same ring started at its least arc length. */
function rotated(s: number[], plateNode: number[]): RingPlaces {
  let first = 0;
  s.forEach((v, k) => {
    if (v < s[first]) first = k;
  });
  const turn = <T>(a: readonly T[]): T[] => [...a.slice(first), ...a.slice(0, first)];
  return { s: Float64Array.from(turn(s)), plateNode: Int32Array.from(turn(plateNode)) };
}

/** An even ring, where there is no plate. */
export function evenRing(curve: SideCurve, size: number): RingPlaces {
  const n = Math.max(8, Math.round(curve.length / size));
  return {
    s: Float64Array.from({ length: n }, (_, k) => (curve.length * k) / n),
    plateNode: new Int32Array(n).fill(-1),
  };
}

export interface SideStrip {
  readonly rings: readonly Uint32Array[];
  /** Own nodes, numbered from `firstNode` on. */
  readonly nodes: readonly number[];
  readonly triangles: readonly number[];
}

/** Depth of each lining on the side from the plate's mid-surface: top, back; 0 without one. */
export function liningDepths(spec: BodyShellSpec): readonly [number, number] {
  const depth = (lining: { height: number } | null | undefined, panel: BodyShellSpec["top"]): number =>
    lining ? lining.height + (panel === null ? 0 : nominalThickness(panel) / 2) : 0;
  return [depth(spec.sides?.topLining, spec.top), depth(spec.sides?.backLining, spec.back)];
}

/**
 * The side between the two plates' rings: rows of nodes at the plates' edges, at the linings' lower edges and evenly
 * between. Rows of the upper half stand under the top's nodes, those of the lower half over the back's; one band in
 * the middle zips the two unlike rings together.
 *
 *   a(i) ------- a(i+1)      seen from outside: s rises to the right, so (b, b+1, a) and (b, a+1, a) run anticlockwise
 *     |  \          |
 *   b(j) ------- b(j+1)
 *
 * Fails: 'too-shallow' where the linings leave no free side between them or the plates cross.
 */
export function sideStrip(
  spec: BodyShellSpec,
  curve: SideCurve,
  rings: readonly [top: RingPlaces, back: RingPlaces],
  nodeOf: readonly [top: (k: number) => number, back: (k: number) => number],
  heights: readonly [top: PlateHeight, back: PlateHeight],
  firstNode: number,
  size: number,
): Outcome<SideStrip> {
  const [upper, lower] = liningDepths(spec);
  const ends = (s: number): readonly [number, number] => {
    const [x, y] = curve.at(s);
    return [heights[0](x, y), -heights[1](x, y)];
  };
  let mean = 0;
  for (const s of rings[0].s) {
    const [zt, zb] = ends(s);
    const depth = zt - zb;
    mean += depth / rings[0].s.length;
    if (!(depth > 1.02 * (upper + lower)) || !(depth > 0)) {
      const [x, y] = curve.at(s);
      return failed(
        "too-shallow",
        `the back comes within ${depth.toPrecision(3)} m of the top at the edge (${x.toFixed(3)}, ${y.toFixed(3)}) m: ` +
          `no room for the linings (${(upper + lower).toPrecision(3)} m)`,
      );
    }
  }
  const bands = [
    upper > 0 ? Math.max(1, Math.round(upper / size)) : 0,
    Math.max(2, Math.round((mean - upper - lower) / size)),
    lower > 0 ? Math.max(1, Math.round(lower / size)) : 0,
  ] as const;
  const count = bands[0] + bands[1] + bands[2];
  const heightAt = (row: number, s: number): number => {
    const [zt, zb] = ends(s);
    if (row < bands[0]) return zt - (upper * row) / bands[0];
    if (row <= bands[0] + bands[1])
      return zt - upper - ((zt - upper - zb - lower) * (row - bands[0])) / bands[1];
    return zb + (lower * (count - row)) / bands[2];
  };
  const zip = bands[0] + (bands[1] >> 1);
  const nodes: number[] = [];
  const rows: Uint32Array[] = [];
  for (let row = 0; row <= count; row++) {
    const end = row <= zip ? 0 : 1;
    const edge = row === 0 || row === count;
    const { s, plateNode } = rings[end];
    rows.push(
      Uint32Array.from(s, (v, k) => {
        if (edge && plateNode[k] >= 0) return nodeOf[end](plateNode[k]);
        const [x, y] = curve.at(v);
        nodes.push(x, y, heightAt(row, v));
        return firstNode + nodes.length / 3 - 1;
      }),
    );
  }
  const triangles: number[] = [];
  for (let row = 0; row < count; row++) {
    const a = rows[row];
    const b = rows[row + 1];
    if (row === zip) {
      zipped(rings[0].s, rings[1].s, curve.length, (corners) => {
        triangles.push(...corners.map(([ring, k]) => (ring === 0 ? a[k] : b[k])));
      });
      continue;
    }
    for (let i = 0; i < a.length; i++) {
      const j = (i + 1) % a.length;
      if ((i + row) % 2 === 0) triangles.push(b[i], b[j], a[i], b[j], a[j], a[i]);
      else triangles.push(b[i], b[j], a[j], b[i], a[j], a[i]);
    }
  }
  return done({ rings: rows, nodes, triangles });
}

/** Joins two closed rings by triangles, always taking the shorter diagonal. */
function zipped(
  a: Float64Array,
  b: Float64Array,
  length: number,
  take: (corners: readonly (readonly [ring: 0 | 1, k: number])[]) => void,
): void {
  const [n, m] = [a.length, b.length];
  // unwrapped places; b starts at its place nearest to a's first
  const between = (from: number, to: number): number => {
    const d = (to - from) % length;
    return d > length / 2 ? d - length : d < -length / 2 ? d + length : d;
  };
  let start = 0;
  for (let k = 1; k < m; k++) {
    if (Math.abs(between(a[0], b[k])) < Math.abs(between(a[0], b[start]))) start = k;
  }
  const placeA = (i: number): number => a[i % n] + (i >= n ? length : 0);
  const b0 = a[0] + between(a[0], b[start]);
  const placeB = (j: number): number => {
    if (j === m) return b0 + length;
    const forward = (((b[(start + j) % m] - b[start]) % length) + length) % length;
    return b0 + forward;
  };
  let i = 0;
  let j = 0;
  while (i < n || j < m) {
    const alongA = Math.abs(placeA(Math.min(i + 1, n)) - placeB(j));
    const alongB = Math.abs(placeB(Math.min(j + 1, m)) - placeA(i));
    const now = [
      [0, i % n],
      [1, (start + j) % m],
    ] as const;
    if (j === m || (i < n && alongA <= alongB)) {
      take([now[1], [0, (i + 1) % n], now[0]]);
      i++;
    } else {
      take([now[1], [1, (start + j + 1) % m], now[0]]);
      j++;
    }
  }
}

/** The side's mid-line of the spec. */
export function specCurve(spec: BodyShellSpec): SideCurve | null {
  return spec.sides === null ? null : sideCurve(sideLine(spec.sides));
}
