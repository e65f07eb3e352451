import type { PlyMaterial } from "./panel.ts";

/**
 * Constitutive matrix of a layered plate about its mid-surface, 8 x 8 row by row, for the generalised strains
 *   [ex, ey, gxy, kx, ky, kxy, gxz, gyz]   (u(z) = u + z beta; k = grad beta; g = grad w + beta)
 * and the forces [Nx, Ny, Nxy, Mx, My, Mxy, Qx, Qy] per metre:  [A B 0; B D 0; 0 0 S].
 */
export interface Laminate {
  /** 64 numbers. */ readonly stiffness: Float64Array;
  /** 64 numbers: the imaginary part, to first order in the loss factors. */ readonly loss: Float64Array;
  /** Integrals of density over z: kg/m2, kg/m, kg. */ readonly inertia: readonly [
    m0: number,
    m1: number,
    m2: number,
  ];
  /**
   * 6 numbers: Nx Ny Nxy Mx My Mxy that growth of the layers (moisture, heat) has when it is wholly held, sum of Q growth and
   * z Q growth; the forces are C e - held. null: nothing grows.
   */
  readonly held: Float64Array | null;
}

/** One layer between two heights over the mid-surface. */
export interface Layer {
  readonly material: PlyMaterial;
  /** From +x, anticlockwise, rad. */ readonly angle: number;
  readonly bottom: number;
  readonly top: number;
}

/**
 * Plane-stress stiffness of a ply turned by `angle`, 3 x 3 row by row, real and imaginary part (first order in loss):
 *   Q11 = EL / (1 - nuLR nuRL), Q22 = ER / (1 - nuLR nuRL), Q12 = nuLR Q22, Q66 = GLR, nuRL = nuLR ER / EL.
 */
export function plyStiffness(m: PlyMaterial, angle: number): { re: Float64Array; im: Float64Array } {
  const { EL, ER, nuLR: nu, GLR, loss } = m;
  const d = EL - nu * nu * ER;
  const dEL = loss.L * EL;
  const dER = loss.R * ER;
  const dd = dEL - nu * nu * dER;
  const q11 = (EL * EL) / d;
  const q22 = (EL * ER) / d;
  const i11 = (2 * EL * dEL) / d - (EL * EL * dd) / (d * d);
  const i22 = (dEL * ER + EL * dER) / d - (EL * ER * dd) / (d * d);
  return {
    re: turned(q11, nu * q22, q22, GLR, angle),
    im: turned(i11, nu * i22, i22, loss.LR * GLR, angle),
  };
}

/** Plane stiffness (Q11, Q12, Q22, Q66 in its own axes) seen from axes turned back by `angle`. */
function turned(q11: number, q12: number, q22: number, q66: number, angle: number): Float64Array {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const c2 = c * c;
  const s2 = s * s;
  const h = q12 + 2 * q66;
  const a = q11 - q12 - 2 * q66;
  const b = q12 - q22 + 2 * q66;
  const xx = q11 * c2 * c2 + 2 * h * c2 * s2 + q22 * s2 * s2;
  const yy = q11 * s2 * s2 + 2 * h * c2 * s2 + q22 * c2 * c2;
  const xy = (q11 + q22 - 4 * q66) * c2 * s2 + q12 * (c2 * c2 + s2 * s2);
  const ss = (q11 + q22 - 2 * q12 - 2 * q66) * c2 * s2 + q66 * (c2 * c2 + s2 * s2);
  const xs = (a * c2 + b * s2) * c * s;
  const ys = (a * s2 + b * c2) * c * s;
  return Float64Array.of(xx, xy, xs, xy, yy, ys, xs, ys, ss);
}

/**
 * Laminate of stacked layers (any order, no gaps needed), the plate first.
 *
 * A, B, D are the exact integrals of Q, zQ, z2Q. Transverse shear is by energy equilibrium in the axes of the first
 * layer (the plate): in cylindrical bending along one axis the shear stress is g(z) Q with
 *   g(z) = int_z^top Q11 (z' - zn) dz' / Dn,   1/S = int g2 / G dz,
 * which is 5/6 G h for one layer. Layers at other angles enter with their Q11 and G along that axis; the shear
 * coupling between the two axes of a skew layer is left out (it is zero for layers along or across the plate's grain).
 * Reddy, Mechanics of Laminated Composite Plates and Shells, ch. 3 (from memory).
 */
export function laminate(layers: readonly Layer[]): Laminate {
  const stiffness = new Float64Array(64);
  const loss = new Float64Array(64);
  let m0 = 0;
  let m1 = 0;
  let m2 = 0;
  let held: Float64Array | null = null;
  for (const layer of layers) {
    const { re, im } = plyStiffness(layer.material, layer.angle);
    const { bottom, top } = layer;
    const h = [top - bottom, (top ** 2 - bottom ** 2) / 2, (top ** 3 - bottom ** 3) / 3] as const;
    m0 += layer.material.density * h[0];
    m1 += layer.material.density * h[1];
    m2 += layer.material.density * h[2];
    if (layer.material.growth !== undefined) {
      held ??= new Float64Array(6);
      const grown = turnedGrowth(layer.material.growth, layer.angle);
      for (let i = 0; i < 3; i++) {
        const force = re[3 * i] * grown[0] + re[3 * i + 1] * grown[1] + re[3 * i + 2] * grown[2];
        held[i] += force * h[0];
        held[i + 3] += force * h[1];
      }
    }
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        const q = re[3 * i + j];
        const l = im[3 * i + j];
        stiffness[8 * i + j] += q * h[0];
        stiffness[8 * i + j + 3] += q * h[1];
        stiffness[8 * (i + 3) + j] += q * h[1];
        stiffness[8 * (i + 3) + j + 3] += q * h[2];
        loss[8 * i + j] += l * h[0];
        loss[8 * i + j + 3] += l * h[1];
        loss[8 * (i + 3) + j] += l * h[1];
        loss[8 * (i + 3) + j + 3] += l * h[2];
      }
    }
  }
  const base = layers[0].angle;
  const along = shearAlong(layers, base);
  const across = shearAlong(layers, base + Math.PI / 2);
  const c = Math.cos(base);
  const s = Math.sin(base);
  const put = (to: Float64Array, a: number, b: number): void => {
    to[54] = a * c * c + b * s * s;
    to[55] = (a - b) * c * s;
    to[62] = (a - b) * c * s;
    to[63] = a * s * s + b * c * c;
  };
  put(stiffness, along.shear, across.shear);
  put(loss, along.loss, across.loss);
  return { stiffness, loss, inertia: [m0, m1, m2], held };
}

/** Strains (x, y, engineering shear) of a sheet that grows by `along` and `across` its grain, the grain turned by `angle`. */
export function turnedGrowth(
  { along, across }: { readonly along: number; readonly across: number },
  angle: number,
): readonly [x: number, y: number, xy: number] {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [along * c * c + across * s * s, along * s * s + across * c * c, 2 * (along - across) * c * s];
}

/** Forces of a layer of stiffness `c` (8 x 8) that grows by the same plane strain through its thickness and is held. */
export function heldEvenly(c: Float64Array, strain: readonly [number, number, number]): Float64Array {
  const held = new Float64Array(6);
  for (let i = 0; i < 6; i++) for (let j = 0; j < 3; j++) held[i] += c[8 * i + j] * strain[j];
  return held;
}

/** a + share x b; null where neither grows. */
export function heldSum(a: Float64Array | null, b: Float64Array | null, share: number): Float64Array | null {
  if (b === null) return a;
  const sum = a === null ? new Float64Array(6) : a.slice();
  for (let k = 0; k < 6; k++) sum[k] += share * b[k];
  return sum;
}

const gaussAt = [-Math.sqrt(0.6), 0, Math.sqrt(0.6)] as const;
const gaussWeight = [5 / 18, 8 / 18, 5 / 18] as const;

/** Shear stiffness (N/m) and its imaginary part for bending along the direction `angle`. */
function shearAlong(layers: readonly Layer[], angle: number): { shear: number; loss: number } {
  const sorted = [...layers].sort((p, q) => p.bottom - q.bottom);
  const parts = sorted.map((layer) => {
    const m = layer.material;
    const turn = layer.angle - angle;
    const c2 = Math.cos(turn) ** 2;
    const s2 = Math.sin(turn) ** 2;
    return {
      bottom: layer.bottom,
      top: layer.top,
      q: plyStiffness(m, turn).re[0],
      g: m.GLT * c2 + m.GRT * s2,
      lossG: m.loss.transverse * (m.GLT * c2 + m.GRT * s2),
    };
  });
  let a = 0;
  let b = 0;
  let d = 0;
  for (const p of parts) {
    a += p.q * (p.top - p.bottom);
    b += (p.q * (p.top ** 2 - p.bottom ** 2)) / 2;
    d += (p.q * (p.top ** 3 - p.bottom ** 3)) / 3;
  }
  const neutral = b / a;
  const bending = d - (b * b) / a;
  let below = 0; // shear flow gathered from the bottom face up
  let compliance = 0;
  let lossCompliance = 0;
  for (const p of parts) {
    const moment = (z: number): number => (p.q * ((z - neutral) ** 2 - (p.bottom - neutral) ** 2)) / 2;
    for (let k = 0; k < 3; k++) {
      const z = p.bottom + ((p.top - p.bottom) * (1 + gaussAt[k])) / 2;
      const g = (below + moment(z)) / bending;
      const part = (gaussWeight[k] * (p.top - p.bottom) * g * g) / p.g;
      compliance += part;
      lossCompliance += (part * p.lossG) / p.g;
    }
    below += moment(p.top);
  }
  return { shear: 1 / compliance, loss: lossCompliance / (compliance * compliance) };
}

/** Average of laminates by area fraction (fractions add up to 1): strains equal, forces averaged. */
export function blended(parts: readonly { laminate: Laminate; fraction: number }[]): Laminate {
  const stiffness = new Float64Array(64);
  const loss = new Float64Array(64);
  const inertia: [number, number, number] = [0, 0, 0];
  let held: Float64Array | null = null;
  for (const { laminate: l, fraction } of parts) {
    held = heldSum(held, l.held, fraction);
    for (let k = 0; k < 64; k++) {
      stiffness[k] += fraction * l.stiffness[k];
      loss[k] += fraction * l.loss[k];
    }
    for (let k = 0; k < 3; k++) inertia[k] += fraction * l.inertia[k];
  }
  return { stiffness, loss, inertia, held };
}
