import { done, luSolve, type Outcome } from "#engine/numerics";
import type { BodyParts } from "./bodyParts.ts";
import { crownLever } from "./crownBasis.ts";

/**
 * Compliance at the crowns that the plate's retained modes lack (3C x 3C, m/N): static, edges held, minus their sum.
 *   C = T C6 T',  Cm = Phi diag(1/w^2) Phi';   residual = S(C) - S(Cm)
 * With strings of axial stiffness k tied to crown and nut, S(A) = A (1 + k A)^-1 on the along-directions; without, S(A) = A.
 * phi: 3C x count crown motions of the top's modes (row stride n).
 */
export function crownResidual(parts: BodyParts, phi: Float64Array, n: number): Outcome<Float64Array> {
  const size = 3 * parts.crowns.length;
  const lever = crownLever(parts);
  const still = withStrings(congruence(lever, parts.bridgeFlexibility, size, 2 * size), parts, size);
  if (!still.ok) return still;
  const modal = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      let sum = 0;
      for (let m = 0; m < parts.top.count; m++)
        sum += (phi[i * n + m] * phi[j * n + m]) / parts.top.omega[m] ** 2;
      modal[i * size + j] = sum;
    }
  }
  const moving = withStrings(modal, parts, size);
  if (!moving.ok) return moving;
  const residual = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      // Symmetric by reciprocity; rounding of the static solve is shared between both halves.
      const gap = (a: number, b: number) => still.value[a * size + b] - moving.value[a * size + b];
      residual[i * size + j] = 0.5 * (gap(i, j) + gap(j, i));
    }
  }
  return done(residual);
}

/** T A T' (T rows x columns, row by row). */
function congruence(t: Float64Array, a: Float64Array, rows: number, columns: number): Float64Array {
  const half = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++) {
    for (let k = 0; k < columns; k++) {
      const f = t[i * columns + k];
      if (f === 0) continue;
      for (let j = 0; j < columns; j++) half[i * columns + j] += f * a[k * columns + j];
    }
  }
  const out = new Float64Array(rows * rows);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < rows; j++) {
      let sum = 0;
      for (let k = 0; k < columns; k++) sum += half[i * columns + k] * t[j * columns + k];
      out[i * rows + j] = sum;
    }
  }
  return out;
}

/** (1 + A k)^-1 A with the strings' springs k on every third direction. */
function withStrings(a: Float64Array, parts: BodyParts, size: number): Outcome<Float64Array> {
  const k = parts.stringStiffness;
  if (!k) return done(a);
  const left = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++)
      left[i * size + j] = (i === j ? 1 : 0) + (j % 3 === 2 ? a[i * size + j] * k[(j - 2) / 3] : 0);
  }
  // A is symmetric, so its rows serve as columns; the solution comes column after column and is symmetric as well.
  return luSolve(left, size, a, size);
}
