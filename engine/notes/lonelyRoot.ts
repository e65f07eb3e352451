import type { BodyCells } from "./bodyCells.ts";
import type { BodyPoles, CrownSystem } from "./crownSystem.ts";
import { endForce, slot } from "./secular.ts";

/** Shift of a body root, and room for D. */
export interface LonelyRoot {
  re: number;
  im: number;
  bendRe: number;
  bendIm: number;
  readonly end: Float64Array;
}

/** A shift that changes D by more than this share along it, or is longer than this share of the way to the next pole, is no lonely one's. */
const mostBend = 0.15;
const mostWay = 0.07;
/** A change of D by less than this share is taken as straight: its bend is then about the square of it. */
const straight = 0.02;

/**
 * The root of a mode that hardly feels the string, all other modes taken as they are at its own pole p:
 *   lambda = p + d,  d = D s' (I + D G_rest)^-1 s
 * D by a secant through its values at p and one step on, the latter from its slope at p where it hardly changes on the way. False
 * where that is too rough.
 */
export function lonelyRoot(c: CrownSystem, cells: BodyCells, i: number, out: LonelyRoot): boolean {
  const x = c.body.re[i]!;
  const y = c.body.im[i]!;
  endForce(c, x, y, out.end);
  shift(c, cells, i, out);
  const ar = out.re;
  const ai = out.im;
  const way = mostWay * cells.gap[i]!;
  if (!(ar * ar + ai * ai < way * way)) return false;
  const size = ar * ar + ai * ai;
  if (size === 0) return false;
  const { end } = out;
  const changeRe = end[2]! * ar - end[3]! * ai;
  const changeIm = end[2]! * ai + end[3]! * ar;
  const change = changeRe * changeRe + changeIm * changeIm;
  if (change < straight * straight * (end[0]! * end[0]! + end[1]! * end[1]!)) {
    end[0] = end[0]! + changeRe;
    end[1] = end[1]! + changeIm;
  } else endForce(c, x + ar, y + ai, end);
  shift(c, cells, i, out);
  // d(a) = a (1 + m): the fixed point is a/(1 - m)
  const mr = ((out.re - ar) * ar + (out.im - ai) * ai) / size;
  const mi = ((out.im - ai) * ar - (out.re - ar) * ai) / size;
  if (!(mr * mr + mi * mi < mostBend * mostBend)) return false;
  out.bendRe = mr;
  out.bendIm = mi;
  const over = 1 / ((1 - mr) * (1 - mr) + mi * mi);
  out.re = (ar * (1 - mr) - ai * mi) * over;
  out.im = (ai * (1 - mr) + ar * mi) * over;
  return true;
}

/** d for the D in `out.end`. */
function shift(c: CrownSystem, { rest }: BodyCells, i: number, out: LonelyRoot): void {
  const dr = out.end[0]!;
  const di = out.end[1]!;
  const k = 6 * i;
  const { weight } = c;
  const xr = 1 + dr * rest[k]! - di * rest[k + 1]!;
  const xi = dr * rest[k + 1]! + di * rest[k]!;
  const pr = dr * rest[k + 2]! - di * rest[k + 3]!;
  const pi = dr * rest[k + 3]! + di * rest[k + 2]!;
  const yr = 1 + dr * rest[k + 4]! - di * rest[k + 5]!;
  const yi = dr * rest[k + 5]! + di * rest[k + 4]!;
  // s' adj(I + D G) s over its determinant
  const sr =
    weight[k]! * yr -
    weight[k + 1]! * yi -
    2 * (weight[k + 2]! * pr - weight[k + 3]! * pi) +
    weight[k + 4]! * xr -
    weight[k + 5]! * xi;
  const si =
    weight[k]! * yi +
    weight[k + 1]! * yr -
    2 * (weight[k + 2]! * pi + weight[k + 3]! * pr) +
    weight[k + 4]! * xi +
    weight[k + 5]! * xr;
  const er = xr * yr - xi * yi - pr * pr + pi * pi;
  const ei = xr * yi + xi * yr - 2 * pr * pi;
  const over = 1 / (er * er + ei * ei);
  const qr = (sr * er + si * ei) * over;
  const qi = (si * er - sr * ei) * over;
  out.re = dr * qr - di * qi;
  out.im = dr * qi + di * qr;
}

/**
 * Fills the slots of `secular` and the pressure per force at such a root: with eps = p - lambda = -d
 *   G = G_rest + s s'/eps,   f = det(I + D G_rest) (1 + d/eps),   f' = det(I + D G_rest) (1 - dd/dlambda)/d
 * `shift` from place `s` on: d, D and dd/dlambda, as in SecularRoots.
 */
export function atLonelyRoot(
  b: BodyPoles,
  cells: BodyCells,
  i: number,
  shift: Float64Array,
  s: number,
  at: Float64Array,
  heard: Float64Array,
): void {
  const sr = shift[s]!;
  const si = shift[s + 1]!;
  const dr = shift[s + 2]!;
  const di = shift[s + 3]!;
  const size = 1 / (sr * sr + si * si);
  // 1/eps
  const u = -sr * size;
  const v = si * size;
  const { rest } = cells;
  const k = 6 * i;
  const xr = 1 + dr * rest[k]! - di * rest[k + 1]!;
  const xi = dr * rest[k + 1]! + di * rest[k]!;
  const pr = dr * rest[k + 2]! - di * rest[k + 3]!;
  const pi = dr * rest[k + 3]! + di * rest[k + 2]!;
  const yr = 1 + dr * rest[k + 4]! - di * rest[k + 5]!;
  const yi = dr * rest[k + 5]! + di * rest[k + 4]!;
  const er = xr * yr - xi * yi - pr * pr + pi * pi;
  const ei = xr * yi + xi * yr - 2 * pr * pi;
  // (1 - dd/dlambda)/d
  const br = -((1 - shift[s + 4]!) * u + shift[s + 5]! * v);
  const bi = -((1 - shift[s + 4]!) * v - shift[s + 5]! * u);
  at[slot.end] = dr;
  at[slot.end + 1] = di;
  for (let d = 0; d < 6; d += 2) {
    const wr = b.weight[k + d]!;
    const wi = b.weight[k + d + 1]!;
    at[slot.xx + d] = rest[k + d]! + wr * u - wi * v;
    at[slot.xx + d + 1] = rest[k + d + 1]! + wr * v + wi * u;
  }
  at[slot.slope] = er * br - ei * bi;
  at[slot.slope + 1] = er * bi + ei * br;
  const h = 4 * i;
  for (let d = 0; d < 4; d += 2) {
    const or = cells.heardOwn[h + d]!;
    const oi = cells.heardOwn[h + d + 1]!;
    heard[d] = cells.heardRest[h + d]! + or * u - oi * v;
    heard[d + 1] = cells.heardRest[h + d + 1]! + or * v + oi * u;
  }
}
