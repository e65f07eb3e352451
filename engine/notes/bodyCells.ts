import type { BodyPoles } from "./crownSystem.ts";

/**
 * The body's compliance by stretches of frequency: in each, the modes near it one by one, and all others together as a
 * polynomial about the middle of the stretch (second order in lambda). A tenth of the work of the whole sum. The poles must
 * ascend.
 */
export interface BodyCells {
  /** ln of the lowest middle's lambda, and of the ratio of neighbouring ones. */
  readonly first: number;
  readonly ratio: number;
  readonly count: number;
  /** Middles, lambda. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Modes from, to (not included) of each cell, taken one by one. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** By cell: what the others add, 6 numbers (as `weight`) for each power 0, 1, 2 of lambda minus the middle. */
  readonly far: Float64Array;
  /** By cell: pressure per force of the others, 4 numbers for powers 0 and 1, at the middle's frequency. */
  readonly heard: Float64Array;
  /** By mode: compliance of all others at its own pole (6 numbers as `weight`), and distance of the nearest other pole. */
  readonly rest: Float64Array;
  readonly gap: Float64Array;
  /** By mode: pressure per force of all others at its own pole, and its own pressure times shape there (4 numbers each). */
  readonly heardRest: Float64Array;
  readonly heardOwn: Float64Array;
}

/** Ratio of the frequencies of neighbouring middles. */
const step = 1.08;
/** Modes within this share of the middle's frequency are taken one by one. */
const reach = 0.24;
/** Loss factor of the middles: between those of strings and of bodies. */
const loss = 0.015;
/** Hz: lower than any string's fundamental. */
const lowest = 50;

/** Cells up to `highest` Hz. */
export function bodyCells(b: BodyPoles, highest: number): BodyCells {
  const count = Math.ceil(Math.log(highest / lowest) / Math.log(step)) + 1;
  const cells = {
    first: 2 * Math.log(2 * Math.PI * lowest),
    ratio: 2 * Math.log(step),
    count,
    re: new Float64Array(count),
    im: new Float64Array(count),
    from: new Int32Array(count),
    to: new Int32Array(count),
    far: new Float64Array(18 * count),
    heard: new Float64Array(8 * count),
  };
  const own = new Float64Array(4);
  for (let k = 0; k < count; k++) {
    const w = 2 * Math.PI * lowest * step ** k;
    const x = w * w;
    const y = loss * x;
    cells.re[k] = x;
    cells.im[k] = y;
    const [low, high] = [(w * (1 - reach)) ** 2, (w * (1 + reach)) ** 2];
    let from = 0;
    while (from < b.body.count && b.body.re[from]! < low) from++;
    let to = from;
    while (to < b.body.count && b.body.re[to]! <= high) to++;
    cells.from[k] = from;
    cells.to[k] = to;
    const at = 18 * k;
    for (let d = 0; d < 3; d++) cells.far[at + 2 * d] = b.residual[d]!;
    for (let i = -1; i < b.body.count; i++) {
      if (i >= from && i < to) continue;
      // the rigid motions have their pole at 0
      const a = (i < 0 ? 0 : b.body.re[i]!) - x;
      const c = (i < 0 ? 0 : b.body.im[i]!) - y;
      const size = 1 / (a * a + c * c);
      const u = a * size;
      const v = -c * size;
      addPowers(cells.far, at, b, i, u, v);
      heardOf(b, i, w, own);
      const h = 8 * k;
      for (let d = 0; d < 4; d += 2) {
        const re = own[d]! * u - own[d + 1]! * v;
        const im = own[d]! * v + own[d + 1]! * u;
        cells.heard[h + d] = cells.heard[h + d]! + re;
        cells.heard[h + d + 1] = cells.heard[h + d + 1]! + im;
        cells.heard[h + 4 + d] = cells.heard[h + 4 + d]! + re * u - im * v;
        cells.heard[h + 5 + d] = cells.heard[h + 5 + d]! + re * v + im * u;
      }
    }
  }
  return { ...cells, ...atPoles(b, cells) };
}

type AtPoles = Pick<BodyCells, "rest" | "gap" | "heardRest" | "heardOwn">;

/** What every mode finds of the others at its own pole. */
function atPoles(b: BodyPoles, cells: Omit<BodyCells, keyof AtPoles>): AtPoles {
  const { count, re, im } = b.body;
  const rest = new Float64Array(6 * count);
  const gap = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const heardRest = new Float64Array(4 * count);
  const heardOwn = new Float64Array(4 * count);
  const other = new Float64Array(4);
  for (let i = 0; i < count; i++) {
    const x = re[i]!;
    const y = im[i]!;
    const cell = cellOf(cells, x);
    const k = 18 * cell;
    const a = x - cells.re[cell]!;
    const c = y - cells.im[cell]!;
    for (let d = 0; d < 6; d += 2) {
      const ur = cells.far[k + 6 + d]! + cells.far[k + 12 + d]! * a - cells.far[k + 13 + d]! * c;
      const ui = cells.far[k + 7 + d]! + cells.far[k + 12 + d]! * c + cells.far[k + 13 + d]! * a;
      rest[6 * i + d] = cells.far[k + d]! + ur * a - ui * c;
      rest[6 * i + d + 1] = cells.far[k + d + 1]! + ur * c + ui * a;
    }
    const w = Math.sqrt(x);
    heardOf(b, i, w, other);
    heardOwn.set(other, 4 * i);
    const h = 8 * cell;
    for (let d = 0; d < 4; d += 2) {
      const ur = cells.heard[h + 4 + d]!;
      const ui = cells.heard[h + 5 + d]!;
      heardRest[4 * i + d] = cells.heard[h + d]! + ur * a - ui * c;
      heardRest[4 * i + d + 1] = cells.heard[h + d + 1]! + ur * c + ui * a;
    }
    for (let j = cells.from[cell]!; j < cells.to[cell]!; j++) {
      if (j === i) continue;
      const p = re[j]! - x;
      const q = im[j]! - y;
      const square = p * p + q * q;
      gap[i] = Math.min(gap[i]!, Math.sqrt(square));
      const u = p / square;
      const v = -q / square;
      for (let d = 0; d < 6; d += 2) {
        const wr = b.weight[6 * j + d]!;
        const wi = b.weight[6 * j + d + 1]!;
        rest[6 * i + d] = rest[6 * i + d]! + wr * u - wi * v;
        rest[6 * i + d + 1] = rest[6 * i + d + 1]! + wr * v + wi * u;
      }
      heardOf(b, j, w, other);
      for (let d = 0; d < 4; d += 2) {
        const pr = other[d]!;
        const pi = other[d + 1]!;
        heardRest[4 * i + d] = heardRest[4 * i + d]! + pr * u - pi * v;
        heardRest[4 * i + d + 1] = heardRest[4 * i + d + 1]! + pr * v + pi * u;
      }
    }
  }
  return { rest, gap, heardRest, heardOwn };
}

/** Adds weight/(lambda_i - middle)^(p + 1) for the powers p = 0, 1, 2; i < 0: the rigid motions. */
function addPowers(far: Float64Array, at: number, b: BodyPoles, i: number, u: number, v: number): void {
  for (let d = 0; d < 3; d++) {
    let re = i < 0 ? b.rigid[d]! : b.weight[6 * i + 2 * d]!;
    let im = i < 0 ? 0 : b.weight[6 * i + 2 * d + 1]!;
    for (let power = 0; power < 3; power++) {
      const next = re * u - im * v;
      im = re * v + im * u;
      re = next;
      const k = at + 6 * power + 2 * d;
      far[k] = far[k]! + re;
      far[k + 1] = far[k + 1]! + im;
    }
  }
}

/** Pressure times normal and across shape at w (rad/s), straight between the rows of the table; i < 0: the rigid motions. */
function heardOf(b: BodyPoles, i: number, w: number, out: Float64Array): void {
  const { step: gap, rows, modes, rigid } = b.sound;
  const place = Math.min(w / gap, rows - 1);
  const row = Math.max(0, Math.min(Math.floor(place), rows - 2));
  const f = rows === 1 ? 0 : place - row;
  const next = rows === 1 ? row : row + 1;
  const [table, width, at] = i < 0 ? [rigid, 1, 0] : [modes, b.body.count, i];
  for (let d = 0; d < 4; d++)
    out[d] = (1 - f) * table[4 * (row * width + at) + d]! + f * table[4 * (next * width + at) + d]!;
}

/** The cell that a value of lambda (its real part) belongs to. */
export function cellOf(cells: Pick<BodyCells, "first" | "ratio" | "count">, re: number): number {
  const k = Math.round((Math.log(re) - cells.first) / cells.ratio);
  return k < 0 ? 0 : k >= cells.count ? cells.count - 1 : k;
}
