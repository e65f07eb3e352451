import { cellOf, heardAfar } from "./bodyCells.ts";
import type { CrownSystem } from "./crownSystem.ts";

/**
 * sum_i P_i shape_i/(lambda_i - lambda), normal and across, complex: pressure amplitude over -lambda per force, into `out`. P at
 * the frequency w (rad/s) of the tone, straight between the rows of its table and held beyond its end.
 */
export function pressurePerForce(c: CrownSystem, x: number, y: number, w: number, out: Float64Array): void {
  const { step, rows, modes, rigid } = c.sound;
  const place = Math.min(w / step, rows - 1);
  const row = Math.max(0, Math.min(Math.floor(place), rows - 2));
  const f = rows === 1 ? 0 : place - row;
  const g = 1 - f;
  const next = rows === 1 ? row : row + 1;
  const { re, im } = c.body;
  let from = 0;
  let to = c.body.count;
  if (c.cells === undefined) {
    const z = 1 / (x * x + y * y);
    const u = -x * z;
    const v = y * z;
    const k = 4 * row;
    const l = 4 * next;
    for (let d = 0; d < 4; d += 2) {
      const pr = g * rigid[k + d]! + f * rigid[l + d]!;
      const pi = g * rigid[k + d + 1]! + f * rigid[l + d + 1]!;
      out[d] = pr * u - pi * v;
      out[d + 1] = pr * v + pi * u;
    }
  } else {
    const cell = cellOf(c.cells, x);
    from = c.cells.from[cell]!;
    to = c.cells.to[cell]!;
    heardAfar(c.cells, cell, x, y, out);
  }
  let nr = out[0]!;
  let ni = out[1]!;
  let ar = out[2]!;
  let ai = out[3]!;
  let k = 4 * (row * c.body.count + from);
  let l = 4 * (next * c.body.count + from);
  for (let i = from; i < to; i++, k += 4, l += 4) {
    const a = re[i]! - x;
    const b = im[i]! - y;
    const size = 1 / (a * a + b * b);
    const u = a * size;
    const v = -b * size;
    const pr = g * modes[k]! + f * modes[l]!;
    const pi = g * modes[k + 1]! + f * modes[l + 1]!;
    const qr = g * modes[k + 2]! + f * modes[l + 2]!;
    const qi = g * modes[k + 3]! + f * modes[l + 3]!;
    nr += pr * u - pi * v;
    ni += pr * v + pi * u;
    ar += qr * u - qi * v;
    ai += qr * v + qi * u;
  }
  out[0] = nr;
  out[1] = ni;
  out[2] = ar;
  out[3] = ai;
}
