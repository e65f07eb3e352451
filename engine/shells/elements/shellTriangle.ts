import type { Laminate } from "../laminate.ts";
import { type BendingScratch, bendingScratch, bendingStrains } from "./bendingStrains.ts";
import { membraneStrains } from "./membraneStrains.ts";

/**
 * Flat shell triangle: optimal membrane with drilling rotations (membraneStrains.ts) and discrete-shear bending
 * (bendingStrains.ts), coupled through the laminate at the three mid-side points.
 *
 * Motions by corner: ux, uy, uz, rx, ry, rz in the plate frame. The element's own axes are the facet's normal and the
 * projection of the plate frame's x on it, so that grain angles in plan hold on the dome.
 */
export interface ShellTriangle {
  /** 18 x 18 row by row, real stiffness. */ readonly stiffness: Float64Array;
  /** 18 x 18: imaginary stiffness (strain energy of the same strains in the loss laminate). */ readonly loss: Float64Array;
  /** 18 x 18 consistent mass; w cubic, the rest linear, no mass on the drilling rotation. */ readonly mass: Float64Array;
  /** 18: volume swept along the normal per unit motion. */ readonly flow: Float64Array;
  /** Facet area and normal. */ readonly facet: Float64Array;
  readonly scratch: TriangleScratch;
}

interface TriangleScratch {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly bending: BendingScratch;
  readonly strains: Float64Array;
  /** The strains, and the forces of both laminates under them, 24 by motion. */
  readonly byMotion: Float64Array;
  readonly forces: Float64Array;
  readonly lossForces: Float64Array;
  readonly frame: Float64Array;
  readonly local: Float64Array;
  readonly deflection: Float64Array;
  readonly gram: Float64Array;
}

/** Memory for one element, filled anew by `shellTriangle` for each facet. */
export function emptyTriangle(): ShellTriangle {
  return {
    stiffness: new Float64Array(324),
    loss: new Float64Array(324),
    mass: new Float64Array(324),
    flow: new Float64Array(18),
    facet: new Float64Array(4),
    scratch: {
      x: new Float64Array(3),
      y: new Float64Array(3),
      bending: bendingScratch(),
      strains: new Float64Array(3 * 8 * 18),
      byMotion: new Float64Array(18 * 24),
      forces: new Float64Array(18 * 24),
      lossForces: new Float64Array(18 * 24),
      frame: new Float64Array(9),
      local: new Float64Array(324),
      deflection: new Float64Array(81),
      gram: cubicGram(),
    },
  };
}

/** Fills `out` (in place) for the facet with corner coordinates `p` (x, y, z of three corners) and its laminate. */
export function shellTriangle(p: Float64Array, laminate: Laminate, out: ShellTriangle): void {
  const s = out.scratch;
  const area = facetAxes(p, s.frame, s.x, s.y);
  out.facet[0] = area;
  for (let k = 0; k < 3; k++) out.facet[1 + k] = s.frame[6 + k];
  const c = laminate.stiffness;
  s.strains.fill(0);
  membraneStrains(s.x, s.y, (c[1] * c[1]) / (c[0] * c[9]), s.strains);
  bendingStrains(s.x, s.y, c, s.bending, s.strains);
  const flat = Math.abs(s.frame[8] - 1) < 1e-15;
  if (!flat) for (let row = 0; row < 24; row++) turnRow(s.strains, row * 18, s.frame);
  for (let q = 0; q < 24; q++) for (let m = 0; m < 18; m++) s.byMotion[24 * m + q] = s.strains[18 * q + m];
  laminateForces(s.byMotion, c, area / 3, s.forces);
  laminateForces(s.byMotion, laminate.loss, area / 3, s.lossForces);
  energies(s, out);
  inertia(laminate.inertia, area, out);
  if (!flat) {
    // M = T' Ml T by rows, then by columns
    for (let row = 0; row < 18; row++) turnRow(out.mass, row * 18, s.frame);
    transpose18(out.mass);
    for (let row = 0; row < 18; row++) turnRow(out.mass, row * 18, s.frame);
    turnRow(out.flow, 0, s.frame);
  }
}

/** Facet's area; fills its axes (rows x, y, normal) and its corners in them. */
function facetAxes(p: Float64Array, frame: Float64Array, x: Float64Array, y: Float64Array): number {
  const ax = p[3] - p[0];
  const ay = p[4] - p[1];
  const az = p[5] - p[2];
  const bx = p[6] - p[0];
  const by = p[7] - p[1];
  const bz = p[8] - p[2];
  const nx = ay * bz - az * by;
  const ny = az * bx - ax * bz;
  const nz = ax * by - ay * bx;
  const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
  const ux = nx / twice;
  const uy = ny / twice;
  const uz = nz / twice;
  // x projected on the facet: e = x - (x.n) n
  const e = Math.sqrt(1 - ux * ux);
  const ex = (1 - ux * ux) / e;
  const ey = (-ux * uy) / e;
  const ez = (-ux * uz) / e;
  frame[0] = ex;
  frame[1] = ey;
  frame[2] = ez;
  frame[3] = uy * ez - uz * ey;
  frame[4] = uz * ex - ux * ez;
  frame[5] = ux * ey - uy * ex;
  frame[6] = ux;
  frame[7] = uy;
  frame[8] = uz;
  x[0] = 0;
  y[0] = 0;
  x[1] = frame[0] * ax + frame[1] * ay + frame[2] * az;
  y[1] = frame[3] * ax + frame[4] * ay + frame[5] * az;
  x[2] = frame[0] * bx + frame[1] * by + frame[2] * bz;
  y[2] = frame[3] * bx + frame[4] * by + frame[5] * bz;
  return twice / 2;
}

/** Row vector over local motions -> over motions in the plate frame: each triple r becomes r R. */
function turnRow(a: Float64Array, at: number, frame: Float64Array): void {
  for (let b = at; b < at + 18; b += 3) {
    const u = a[b];
    const v = a[b + 1];
    const w = a[b + 2];
    a[b] = u * frame[0] + v * frame[3] + w * frame[6];
    a[b + 1] = u * frame[1] + v * frame[4] + w * frame[7];
    a[b + 2] = u * frame[2] + v * frame[5] + w * frame[8];
  }
}

function transpose18(a: Float64Array): void {
  for (let i = 0; i < 18; i++) {
    for (let j = 0; j < i; j++) {
      const t = a[18 * i + j];
      a[18 * i + j] = a[18 * j + i];
      a[18 * j + i] = t;
    }
  }
}

/** weight C g at each point, 8 x 8 C being [A B 0; B D 0; 0 0 S]; strains and forces 3 points x 8 by motion. */
function laminateForces(g: Float64Array, c: Float64Array, weight: number, out: Float64Array): void {
  for (let at = 0; at < 432; at += 8) {
    const g0 = weight * g[at];
    const g1 = weight * g[at + 1];
    const g2 = weight * g[at + 2];
    const g3 = weight * g[at + 3];
    const g4 = weight * g[at + 4];
    const g5 = weight * g[at + 5];
    for (let r = 0; r < 6; r++) {
      const k = 8 * r;
      out[at + r] = c[k] * g0 + c[k + 1] * g1 + c[k + 2] * g2 + c[k + 3] * g3 + c[k + 4] * g4 + c[k + 5] * g5;
    }
    const g6 = weight * g[at + 6];
    const g7 = weight * g[at + 7];
    out[at + 6] = c[54] * g6 + c[55] * g7;
    out[at + 7] = c[62] * g6 + c[63] * g7;
  }
}

/** Stiffness and loss: the sums over points of strains of one motion times forces of the other, symmetric. */
function energies(s: TriangleScratch, out: ShellTriangle): void {
  const { byMotion: g, forces, lossForces } = s;
  const { stiffness, loss } = out;
  for (let i = 0; i < 18; i++) {
    for (let j = 0; j <= i; j++) {
      let k = 0;
      let l = 0;
      for (let a = 24 * i, b = 24 * j, end = b + 24; b < end; a++, b++) {
        k += forces[a] * g[b];
        l += lossForces[a] * g[b];
      }
      stiffness[18 * i + j] = stiffness[18 * j + i] = k;
      loss[18 * i + j] = loss[18 * j + i] = l;
    }
  }
}

/**
 * Consistent mass and normal flow in local axes. Deflection: linear + on each side z_i z_j (a + b (z_i - z_j)) with
 *   a = L (beta_sj - beta_si)/2,   b = 2/3 L d   (d the side's bulge),
 * which along the sides is the deflection whose slope is side shear less rotation (cubic), i.e. the BCIZ cubic where
 * the shear vanishes. Quadratics exact.
 */
function inertia(m: readonly [number, number, number], area: number, out: ShellTriangle): void {
  const { x, y, bending, deflection: t, gram, local } = out.scratch;
  const { bulge } = bending;
  // rows of t: coefficients of [z1 z2 z3, z1z2 z2z3 z3z1, their antisymmetric cubics] over (w, rx, ry) by corner
  t.fill(0);
  for (let i = 0; i < 3; i++) t[9 * i + 3 * i] = 1;
  for (let i = 0; i < 3; i++) {
    const j = (i + 1) % 3;
    const dx = (x[j] - x[i]) / 2;
    const dy = (y[j] - y[i]) / 2;
    const length = 2 * Math.hypot(dx, dy);
    const a = 9 * (3 + i);
    t[a + 3 * i + 1] = dy;
    t[a + 3 * i + 2] = -dx;
    t[a + 3 * j + 1] = -dy;
    t[a + 3 * j + 2] = dx;
    for (let k = 0; k < 3; k++) {
      // b of side k through e of side i, which is (wj - wi + dx (ry_i + ry_j) - dy (rx_i + rx_j)) / length
      const m = (k + 1) % 3;
      const side = Math.hypot(x[m] - x[k], y[m] - y[k]);
      const f = ((2 / 3) * side * bulge[3 * k + i]) / length;
      const b = 9 * (6 + k);
      t[b + 3 * i] -= f;
      t[b + 3 * j] += f;
      t[b + 3 * i + 1] -= dy * f;
      t[b + 3 * i + 2] += dx * f;
      t[b + 3 * j + 1] -= dy * f;
      t[b + 3 * j + 2] += dx * f;
    }
  }
  const mass = out.mass;
  mass.fill(0);
  for (let k = 0; k < 9; k++) {
    for (let c = 0; c < 9; c++) {
      let sum = 0;
      for (let r = 0; r < 9; r++) sum += gram[9 * k + r] * t[9 * r + c];
      local[9 * k + c] = sum;
    }
  }
  const w0 = m[0] * area;
  for (let i = 0; i < 9; i++) {
    const gi = 6 * Math.floor(i / 3) + 2 + (i % 3);
    for (let j = 0; j < 9; j++) {
      let sum = 0;
      for (let k = 0; k < 9; k++) sum += t[9 * k + i] * local[9 * k + j];
      mass[18 * gi + 6 * Math.floor(j / 3) + 2 + (j % 3)] = w0 * sum;
    }
  }
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const g = (area / 12) * (i === j ? 2 : 1);
      const a = 6 * i;
      const b = 6 * j;
      mass[18 * a + b] += m[0] * g;
      mass[18 * (a + 1) + b + 1] += m[0] * g;
      mass[18 * (a + 3) + b + 3] += m[2] * g;
      mass[18 * (a + 4) + b + 4] += m[2] * g;
      // u with beta_x = ry, v with beta_y = -rx
      mass[18 * a + b + 4] += m[1] * g;
      mass[18 * (a + 4) + b] += m[1] * g;
      mass[18 * (a + 1) + b + 3] -= m[1] * g;
      mass[18 * (a + 3) + b + 1] -= m[1] * g;
    }
  }
  const flow = out.flow;
  flow.fill(0);
  for (let i = 0; i < 9; i++) {
    const at = 6 * Math.floor(i / 3) + 2 + (i % 3);
    flow[at] = (area / 3) * (t[i] + t[9 + i] + t[18 + i]) + (area / 12) * (t[27 + i] + t[36 + i] + t[45 + i]);
  }
}

/** Gram matrix of the nine deflection functions over a triangle of area 1: int z1^i z2^j z3^k = 2 i! j! k! / (i+j+k+2)!. */
function cubicGram(): Float64Array {
  type Term = readonly [number, number, number, number];
  const functions: Term[][] = [];
  const unit = (i: number): [number, number, number] => [i === 0 ? 1 : 0, i === 1 ? 1 : 0, i === 2 ? 1 : 0];
  const times = (...at: number[]): [number, number, number] =>
    at.map(unit).reduce((a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
  for (let i = 0; i < 3; i++) functions.push([[1, ...times(i)]]);
  for (let i = 0; i < 3; i++) functions.push([[1, ...times(i, (i + 1) % 3)]]);
  for (let i = 0; i < 3; i++) {
    const j = (i + 1) % 3;
    functions.push([
      [1, ...times(i, i, j)],
      [-1, ...times(i, j, j)],
    ]);
  }
  const factorial = [1, 1, 2, 6, 24, 120, 720, 5040, 40320];
  const gram = new Float64Array(81);
  functions.forEach((f, r) => {
    functions.forEach((g, c) => {
      for (const [a, ...p] of f) {
        for (const [b, ...q] of g) {
          const e = [p[0] + q[0], p[1] + q[1], p[2] + q[2]] as const;
          gram[9 * r + c] +=
            (a * b * 2 * factorial[e[0]] * factorial[e[1]] * factorial[e[2]]) /
            factorial[e[0] + e[1] + e[2] + 2];
        }
      }
    });
  });
  return gram;
}
