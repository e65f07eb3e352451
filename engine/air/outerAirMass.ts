import { invariant } from "#engine/numerics";
import type { AirProperties } from "./airProperties.ts";
import { squareKernel } from "./squareKernel.ts";

/** Where a flow comes through a plane: plan places and the part of a unit flow that each carries (sum 1). */
interface FlowSources {
  /** x, y by source, m. */
  readonly points: Float64Array;
  readonly strength: Float64Array;
}

/** A nearly flat surface and some of its motions, outward. Plates, pistons, rigid heaving: all alike. */
export interface MovingSurface {
  /** x, y, z by node, m; z is not used: a dome is flat to the air. */
  readonly nodes: Float64Array;
  /** 3 nodes by triangle. */
  readonly triangles: Uint32Array;
  readonly count: number;
  /** count x nodes: outward motion per unit coordinate. */
  readonly motion: Float64Array;
}

/** Squares wanted on the surface: at this number a piston's mass is met to 0.5 %. */
const PANELS = 700;

/**
 * Mass of outside air carried by motions of a surface set in an endless baffle, at low frequency (k x size < 1):
 *   M_ij = rho/(2 pi) integral integral w_i(x) w_j(y) / |x - y| dA dA     (Rayleigh's integral, static kernel)
 * (count + 1) x (count + 1) if a hole is given, whose unit flow is then the last motion: its coupling to the surface is
 * computed, its own mass is left 0 because the hole's inertance holds it already. Symmetric, kg for unit motion.
 * The triangles are gathered into some 700 equal squares; 1/r is averaged exactly over every pair of squares, the
 * square with itself included. A circular piston gives 8/3 rho a^3. Source: RAYLEIGH; PISTON.
 */
export function outerAirMass(
  surface: MovingSurface,
  hole: FlowSources | null,
  air: AirProperties,
): Float64Array {
  const { count } = surface;
  const rows = count + (hole ? 1 : 0);
  const grid = laySquares(surface, hole);
  const flow = gather(surface, hole, grid, rows);
  const squares = grid.columns * grid.rows;
  const kernel = squareKernel(grid.side, grid.columns, grid.rows);
  const used = usedSquares(flow, rows, squares);
  const m = new Float64Array(rows * rows);
  const byMotion = flowByMotion(flow, rows, used);
  const near = new Float64Array(used.length); // of the square p with every other
  for (const p of used) {
    const px = p % grid.columns;
    const py = (p - px) / grid.columns;
    for (let q = 0; q < used.length; q++) {
      const qx = used[q] % grid.columns;
      const qy = (used[q] - qx) / grid.columns;
      near[q] = kernel[Math.abs(py - qy) * grid.columns + Math.abs(px - qx)];
    }
    const potential = products(byMotion, near);
    for (let i = 0; i < rows; i++) {
      const fi = (air.density / (2 * Math.PI)) * flow[p * rows + i];
      for (let j = 0; j < rows; j++) m[i * rows + j] += fi * potential[j];
    }
  }
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < i; j++) {
      m[i * rows + j] = m[j * rows + i] = 0.5 * (m[i * rows + j] + m[j * rows + i]);
    }
  }
  if (hole) m[rows * rows - 1] = 0;
  return m;
}

/** Flow through the used squares, motion after motion, filled up with motions at rest to a multiple of four. */
function flowByMotion(flow: Float64Array, rows: number, used: readonly number[]): Float64Array {
  const out = new Float64Array(4 * Math.ceil(rows / 4) * used.length);
  for (let i = 0; i < rows; i++) {
    for (let q = 0; q < used.length; q++) out[i * used.length + q] = flow[used[q] * rows + i];
  }
  return out;
}

/** Scalar products of every row of `a` (rows of x's length, a multiple of four of them) with x. */
function products(a: Float64Array, x: Float64Array): Float64Array {
  const n = x.length;
  const out = new Float64Array(a.length / n);
  for (let i = 0; i < out.length; i += 4) {
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    for (let q = 0, at = i * n; q < n; q++, at++) {
      const v = x[q];
      s0 += v * a[at];
      s1 += v * a[at + n];
      s2 += v * a[at + 2 * n];
      s3 += v * a[at + 3 * n];
    }
    out[i] = s0;
    out[i + 1] = s1;
    out[i + 2] = s2;
    out[i + 3] = s3;
  }
  return out;
}

interface Grid {
  readonly x0: number;
  readonly y0: number;
  readonly side: number;
  readonly columns: number;
  readonly rows: number;
}

function laySquares(surface: MovingSurface, hole: FlowSources | null): Grid {
  const { nodes, triangles } = surface;
  let area = 0;
  let [x0, y0, x1, y1] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  const reach = (x: number, y: number) => {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  };
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) reach(nodes[3 * triangles[t + k]], nodes[3 * triangles[t + k] + 1]);
    area += planArea(nodes, triangles, t);
  }
  invariant(area > 0, () => `a surface of ${triangles.length / 3} triangles has the plan area ${area}`);
  if (hole) for (let k = 0; k < hole.points.length; k += 2) reach(hole.points[k], hole.points[k + 1]);
  const side = Math.sqrt(area / PANELS);
  const columns = Math.floor((x1 - x0) / side) + 1;
  const rows = Math.floor((y1 - y0) / side) + 1;
  // Centred, so that a symmetric plate is cut symmetrically.
  x0 -= (columns * side - (x1 - x0)) / 2;
  y0 -= (rows * side - (y1 - y0)) / 2;
  return { x0, y0, side, columns, rows };
}

/** squares x rows: flow of each motion through each square. Triangles are cut into small ones, put where their middle lies. */
function gather(surface: MovingSurface, hole: FlowSources | null, grid: Grid, rows: number): Float64Array {
  const { nodes, triangles, count, motion } = surface;
  const n = nodes.length / 3;
  const flow = new Float64Array(grid.columns * grid.rows * rows);
  const squareOf = (x: number, y: number) =>
    (Math.min(grid.rows - 1, Math.floor((y - grid.y0) / grid.side)) * grid.columns +
      Math.min(grid.columns - 1, Math.floor((x - grid.x0) / grid.side))) *
    rows;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const area = planArea(nodes, triangles, t);
    const cuts = Math.max(2, Math.ceil((4 * Math.sqrt(area)) / grid.side));
    const piece = area / (cuts * cuts);
    for (let i = 0; i < cuts; i++) {
      for (let j = 0; j < cuts - i; j++) {
        for (const turned of j < cuts - i - 1 ? [0, 1] : [0]) {
          const u = (i + (turned ? 2 / 3 : 1 / 3)) / cuts;
          const v = (j + (turned ? 2 / 3 : 1 / 3)) / cuts;
          const w = 1 - u - v;
          const x = w * nodes[3 * a] + u * nodes[3 * b] + v * nodes[3 * c];
          const y = w * nodes[3 * a + 1] + u * nodes[3 * b + 1] + v * nodes[3 * c + 1];
          const to = squareOf(x, y);
          for (let k = 0; k < count; k++) {
            flow[to + k] += piece * (w * motion[k * n + a] + u * motion[k * n + b] + v * motion[k * n + c]);
          }
        }
      }
    }
  }
  if (hole) {
    for (let k = 0; k < hole.strength.length; k++) {
      flow[squareOf(hole.points[2 * k], hole.points[2 * k + 1]) + count] += hole.strength[k];
    }
  }
  return flow;
}

function planArea(nodes: Float64Array, triangles: Uint32Array, t: number): number {
  const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
  const bx = nodes[b] - nodes[a];
  const by = nodes[b + 1] - nodes[a + 1];
  const cx = nodes[c] - nodes[a];
  const cy = nodes[c + 1] - nodes[a + 1];
  return Math.abs(bx * cy - by * cx) / 2;
}

function usedSquares(flow: Float64Array, rows: number, squares: number): number[] {
  const used: number[] = [];
  for (let p = 0; p < squares; p++) {
    let any = false;
    for (let i = 0; i < rows && !any; i++) any = flow[p * rows + i] !== 0;
    if (any) used.push(p);
  }
  return used;
}
