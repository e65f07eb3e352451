import type { ElementForm } from "./elementForm.ts";

/** Places of the membrane motions (u, v, t) and the bending motions (w, rx, ry) by corner among ux uy uz rx ry rz. */
const membranePlace = Int32Array.of(0, 1, 5, 6, 7, 11, 12, 13, 17);
const bendingPlace = Int32Array.of(2, 3, 4, 8, 9, 10, 14, 15, 16);

/**
 * Fills `out` (18 x 18 row by row, the element's own axes) with the energy `form` of the strains by motion `m`
 * (membrane) and `b` (bending): both triangles of every 3 x 3 block on and below the diagonal. `forces`: 108 numbers of
 * scratch.
 */
export function gatherForm(
  form: ElementForm,
  m: Float64Array,
  b: Float64Array,
  forces: Float64Array,
  out: Float64Array,
): void {
  blockTimes(form.membrane, m, forces, 0);
  gatherSymmetric(m, forces, membranePlace, out);
  if (form.coupled) {
    blockTimes(form.coupling, b, forces, 54);
    for (let j = 0; j < 9; j++) {
      const f = 54 + 6 * j;
      const f0 = forces[f];
      const f1 = forces[f + 1];
      const f2 = forces[f + 2];
      const f3 = forces[f + 3];
      const f4 = forces[f + 4];
      const f5 = forces[f + 5];
      const column = bendingPlace[j];
      for (let i = 0; i < 9; i++) {
        const g = 6 * i;
        const row = membranePlace[i];
        out[18 * row + column] = out[18 * column + row] =
          m[g] * f0 + m[g + 1] * f1 + m[g + 2] * f2 + m[g + 3] * f3 + m[g + 4] * f4 + m[g + 5] * f5;
      }
    }
  } else {
    for (let j = 0; j < 9; j++) {
      const column = bendingPlace[j];
      for (let i = 0; i < 9; i++)
        out[18 * membranePlace[i] + column] = out[18 * column + membranePlace[i]] = 0;
    }
  }
  blockTimes(form.bending, b, forces, 0);
  gatherSymmetric(b, forces, bendingPlace, out);
}

/** Two 3 x 3 blocks times the two halves of each motion's six numbers, to `out` from `at`. */
function blockTimes(c: Float64Array, g: Float64Array, out: Float64Array, at: number): void {
  const c00 = c[0];
  const c01 = c[1];
  const c02 = c[2];
  const c10 = c[3];
  const c11 = c[4];
  const c12 = c[5];
  const c20 = c[6];
  const c21 = c[7];
  const c22 = c[8];
  const d00 = c[9];
  const d01 = c[10];
  const d02 = c[11];
  const d10 = c[12];
  const d11 = c[13];
  const d12 = c[14];
  const d20 = c[15];
  const d21 = c[16];
  const d22 = c[17];
  for (let k = 0; k < 54; k += 6) {
    const f = at + k;
    const g0 = g[k];
    const g1 = g[k + 1];
    const g2 = g[k + 2];
    out[f] = c00 * g0 + c01 * g1 + c02 * g2;
    out[f + 1] = c10 * g0 + c11 * g1 + c12 * g2;
    out[f + 2] = c20 * g0 + c21 * g1 + c22 * g2;
    const g3 = g[k + 3];
    const g4 = g[k + 4];
    const g5 = g[k + 5];
    out[f + 3] = d00 * g3 + d01 * g4 + d02 * g5;
    out[f + 4] = d10 * g3 + d11 * g4 + d12 * g5;
    out[f + 5] = d20 * g3 + d21 * g4 + d22 * g5;
  }
}

function gatherSymmetric(g: Float64Array, forces: Float64Array, place: Int32Array, out: Float64Array): void {
  for (let i = 0; i < 9; i++) {
    const f = 6 * i;
    const f0 = forces[f];
    const f1 = forces[f + 1];
    const f2 = forces[f + 2];
    const f3 = forces[f + 3];
    const f4 = forces[f + 4];
    const f5 = forces[f + 5];
    const row = place[i];
    for (let j = 0; j <= i; j++) {
      const k = 6 * j;
      const column = place[j];
      out[18 * row + column] = out[18 * column + row] =
        g[k] * f0 + g[k + 1] * f1 + g[k + 2] * f2 + g[k + 3] * f3 + g[k + 4] * f4 + g[k + 5] * f5;
    }
  }
}
