import type { BodyPoles } from "./crownSystem.ts";

/**
 * The body's compliance by stretches of frequency: in each, the modes near it one by one, and all others together as a
 * polynomial about the middle of the stretch (third order in lambda). A tenth of the work of the whole sum. The poles must
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
  /** By cell: what the others add, 6 numbers (as `weight`) for each power 0 to 3 of lambda minus the middle. */
  readonly far: Float64Array;
  /** By cell: pressure per force of the others, 4 numbers for each power 0 to 2. */
  readonly heard: Float64Array;
  /** By mode: compliance of all others at its own pole (6 numbers as `weight`), and distance of the nearest other pole, NaN beyond the cells. */
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
    far: new Float64Array(24 * count),
    heard: new Float64Array(12 * count),
  };
  const own = new Float64Array(4);
  const sums = new Float64Array(12);
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
    const at = 24 * k;
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
    }
    hearOthers(b, cells, k, own, sums);
  }
  return { ...cells, ...atPoles(b, cells) };
}

/** Pressure per force of the modes that are not near: a parabola through its values at both ends and the middle of the cell. */
function hearOthers(
  b: BodyPoles,
  cells: Omit<BodyCells, keyof AtPoles>,
  k: number,
  own: Float64Array,
  sums: Float64Array,
): void {
  const { count } = b.body;
  const from = cells.from[k]!;
  const to = cells.to[k]!;
  const half = 0.5 * (step * step - 1) * cells.re[k]!;
  sums.fill(0);
  for (let p = 0; p < 3; p++) {
    const x = cells.re[k]! + (p - 1) * half;
    const y = cells.im[k]!;
    const w = Math.sqrt(x);
    heardOf(b, -1, w, own);
    const over = 1 / (x * x + y * y);
    addHeard(own, -x * over, y * over, sums, 4 * p);
    hearModes(b, 0, from, x, y, w, sums, 4 * p);
    hearModes(b, to, count, x, y, w, sums, 4 * p);
  }
  for (let d = 0; d < 4; d++) {
    const low = sums[d]!;
    const middle = sums[4 + d]!;
    const high = sums[8 + d]!;
    cells.heard[12 * k + d] = middle;
    cells.heard[12 * k + 4 + d] = (high - low) / (2 * half);
    cells.heard[12 * k + 8 + d] = (high + low - 2 * middle) / (2 * half * half);
  }
}

function addHeard(own: Float64Array, u: number, v: number, out: Float64Array, at: number): void {
  for (let d = 0; d < 4; d += 2) {
    const re = own[d]!;
    const im = own[d + 1]!;
    out[at + d] = out[at + d]! + re * u - im * v;
    out[at + d + 1] = out[at + d + 1]! + re * v + im * u;
  }
}

/** Adds the pressure per force of modes `from` to `to` (not included) at lambda = (x, y), heard at w. */
function hearModes(
  { body, sound }: BodyPoles,
  from: number,
  to: number,
  x: number,
  y: number,
  w: number,
  out: Float64Array,
  at: number,
): void {
  const { rows, modes } = sound;
  const { re, im, count } = body;
  const place = Math.min(w / sound.step, rows - 1);
  const row = Math.max(0, Math.min(Math.floor(place), rows - 2));
  const f = rows === 1 ? 0 : place - row;
  const g = 1 - f;
  const next = rows === 1 ? row : row + 1;
  let nr = 0;
  let ni = 0;
  let ar = 0;
  let ai = 0;
  let k = (4 * (row * count + from)) | 0;
  let l = (4 * (next * count + from)) | 0;
  for (let i = from; i < to; i = (i + 1) | 0, k = (k + 4) | 0, l = (l + 4) | 0) {
    const a = re[i]! - x;
    const c = im[i]! - y;
    const size = 1 / (a * a + c * c);
    const u = a * size;
    const v = -c * size;
    const pr = g * modes[k]! + f * modes[l]!;
    const pi = g * modes[k + 1]! + f * modes[l + 1]!;
    const qr = g * modes[k + 2]! + f * modes[l + 2]!;
    const qi = g * modes[k + 3]! + f * modes[l + 3]!;
    nr += pr * u - pi * v;
    ni += pr * v + pi * u;
    ar += qr * u - qi * v;
    ai += qr * v + qi * u;
  }
  out[at] = out[at]! + nr;
  out[at + 1] = out[at + 1]! + ni;
  out[at + 2] = out[at + 2]! + ar;
  out[at + 3] = out[at + 3]! + ai;
}

/** Pressure per force of the modes that are not near in a cell, at lambda = (re, im): 4 numbers into `out`. */
export function heardAfar(
  cells: Pick<BodyCells, "re" | "im" | "heard">,
  cell: number,
  re: number,
  im: number,
  out: Float64Array,
): void {
  const { heard } = cells;
  const k = 12 * cell;
  const a = re - cells.re[cell]!;
  const b = im - cells.im[cell]!;
  for (let d = 0; d < 4; d += 2) {
    const ur = heard[k + 4 + d]! + heard[k + 8 + d]! * a - heard[k + 9 + d]! * b;
    const ui = heard[k + 5 + d]! + heard[k + 8 + d]! * b + heard[k + 9 + d]! * a;
    out[d] = heard[k + d]! + ur * a - ui * b;
    out[d + 1] = heard[k + d + 1]! + ur * b + ui * a;
  }
}

type AtPoles = Pick<BodyCells, "rest" | "gap" | "heardRest" | "heardOwn">;

/** Roots are sought a little beyond the highest frequency (lambda). */
const margin = 1.1;

/** What every mode within the cells finds of the others at its own pole. */
function atPoles(b: BodyPoles, cells: Omit<BodyCells, keyof AtPoles>): AtPoles {
  const { count, re, im } = b.body;
  const rest = new Float64Array(6 * count);
  const gap = new Float64Array(count).fill(Number.NaN);
  const heardRest = new Float64Array(4 * count);
  const heardOwn = new Float64Array(4 * count);
  const other = new Float64Array(4);
  const top = margin * cells.re[cells.count - 1]!;
  for (let i = 0; i < count && re[i]! <= top; i++) {
    const x = re[i]!;
    const y = im[i]!;
    let nearest = Number.POSITIVE_INFINITY;
    const cell = cellOf(cells, x);
    const k = 24 * cell;
    const a = x - cells.re[cell]!;
    const c = y - cells.im[cell]!;
    for (let d = 0; d < 6; d += 2) {
      const vr = cells.far[k + 12 + d]! + cells.far[k + 18 + d]! * a - cells.far[k + 19 + d]! * c;
      const vi = cells.far[k + 13 + d]! + cells.far[k + 18 + d]! * c + cells.far[k + 19 + d]! * a;
      const ur = cells.far[k + 6 + d]! + vr * a - vi * c;
      const ui = cells.far[k + 7 + d]! + vr * c + vi * a;
      rest[6 * i + d] = cells.far[k + d]! + ur * a - ui * c;
      rest[6 * i + d + 1] = cells.far[k + d + 1]! + ur * c + ui * a;
    }
    const w = Math.sqrt(x);
    heardOf(b, i, w, other);
    heardOwn.set(other, 4 * i);
    heardAfar(cells, cell, x, y, other);
    heardRest.set(other, 4 * i);
    hearModes(b, cells.from[cell]!, Math.min(i, cells.to[cell]!), x, y, w, heardRest, 4 * i);
    hearModes(b, Math.max(i + 1, cells.from[cell]!), cells.to[cell]!, x, y, w, heardRest, 4 * i);
    for (let j = cells.from[cell]!; j < cells.to[cell]!; j++) {
      if (j === i) continue;
      const p = re[j]! - x;
      const q = im[j]! - y;
      const square = p * p + q * q;
      nearest = Math.min(nearest, square);
      const u = p / square;
      const v = -q / square;
      for (let d = 0; d < 6; d += 2) {
        const wr = b.weight[6 * j + d]!;
        const wi = b.weight[6 * j + d + 1]!;
        rest[6 * i + d] = rest[6 * i + d]! + wr * u - wi * v;
        rest[6 * i + d + 1] = rest[6 * i + d + 1]! + wr * v + wi * u;
      }
    }
    gap[i] = Math.sqrt(nearest);
  }
  return { rest, gap, heardRest, heardOwn };
}

/** Adds weight/(lambda_i - middle)^(p + 1) for the powers p = 0 to 3; i < 0: the rigid motions. */
function addPowers(far: Float64Array, at: number, b: BodyPoles, i: number, u: number, v: number): void {
  const { weight, rigid } = b;
  for (let d = 0; d < 6; d += 2) {
    let re = i < 0 ? rigid[d >> 1]! : weight[6 * i + d]!;
    let im = i < 0 ? 0 : weight[6 * i + d + 1]!;
    for (let k = at + d; k < at + 24; k += 6) {
      const next = re * u - im * v;
      im = re * v + im * u;
      re = next;
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
