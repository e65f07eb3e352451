import { invariant, transposed } from "#engine/numerics";

/** A = U diag(values) U', U complex and orthogonal without conjugates (U'U = 1), and some forms in the new coordinates. */
export interface ComplexModes {
  /** count, in the order of the coordinates they grew from. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** rows x count: forms U. */
  readonly rowsRe: Float64Array;
  readonly rowsIm: Float64Array;
  /** Coordinates of pairs at an exceptional point, which are left as they are. */
  readonly merged: ReadonlySet<number>;
}

/** Rotations turn pairs whose coupling exceeds this share of their distance; what is left is met to first order. */
const COUPLED = 1e-3;
const SWEEPS = 12;
/** A pair this near to an exceptional point, |1 + t^2|, is turned no further: its two shapes have become one. */
const EXCEPTIONAL = 1e-6;

/**
 * Diagonalises a complex symmetric matrix that is nearly diagonal by complex rotations (Jacobi's method with tan of a complex
 * angle), always by the smaller angle, so that each mode keeps the place of the coordinate it is mostly made of. re, im:
 * count x count, row by row; kept. rowsRe, rowsIm: forms (rows x count), kept.
 * Source: CLOSED-FORM 2 x 2; small rest by first-order perturbation, values to second order.
 */
export function complexModes(
  re: Float64Array,
  im: Float64Array,
  count: number,
  rowsRe: Float64Array,
  rowsIm: Float64Array,
): ComplexModes {
  const n = count;
  const height = rowsRe.length / n;
  // Re and im side by side; only what lies on and above the diagonal is turned.
  const z = new Float64Array(2 * n * n);
  for (let k = 0; k < n * n; k++) {
    z[2 * k] = re[k];
    z[2 * k + 1] = im[k];
  }
  // Forms column by column: a rotation mixes two contiguous stretches.
  const vr = transposed(rowsRe, height, n);
  const vi = transposed(rowsIm, height, n);
  const merged = new Set<number>();
  const step = 2 * (n + 1);
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    merged.clear();
    let turned = 0;
    for (let apart = 1; apart < n; apart++) {
      for (let p = 0; p + apart < n; p++) {
        const q = p + apart;
        const at = 2 * (p * n + q);
        const er = z[at];
        const ei = z[at + 1];
        const dr = z[q * step] - z[p * step];
        const di = z[q * step + 1] - z[p * step + 1];
        if (er * er + ei * ei <= COUPLED * COUPLED * (dr * dr + di * di)) continue;
        if (turn(z, n, p, q, vr, vi, height)) turned++;
        else merged.add(p).add(q);
      }
    }
    if (turned === 0) break;
  }
  const values = { re: new Float64Array(n), im: new Float64Array(n) };
  const [fr, fi] = smallTurns(z, n, values);
  invariant(values.re.every(Number.isFinite), () => "a complex mode is not finite");
  // V + V F, F antisymmetric: column q gains sum_p V_p F_pq, two columns p at a time.
  const outRe = vr.slice();
  const outIm = vi.slice();
  for (let q = 0; q < n; q++) {
    const to = q * height;
    for (let p = 0; p < n; p += 2) {
      const a = fr[q * n + p];
      const b = fi[q * n + p];
      const other = p + 1 < n ? p + 1 : p;
      const c = other > p ? fr[q * n + other] : 0;
      const d = other > p ? fi[q * n + other] : 0;
      const one = (p * height - to) | 0;
      const two = (other * height - to) | 0;
      for (let k = to, end = to + height; k < end; k = (k + 1) | 0) {
        const u = vr[(k + one) | 0];
        const v = vi[(k + one) | 0];
        const s = vr[(k + two) | 0];
        const t = vi[(k + two) | 0];
        outRe[k] += a * u - b * v + c * s - d * t;
        outIm[k] += a * v + b * u + c * t + d * s;
      }
    }
  }
  return { ...values, rowsRe: transposed(outRe, n, height), rowsIm: transposed(outIm, n, height), merged };
}

/** One rotation of the pair p < q, z on and above the diagonal; false at an exceptional point. */
function turn(
  z: Float64Array,
  n: number,
  p: number,
  q: number,
  vr: Float64Array,
  vi: Float64Array,
  height: number,
): boolean {
  const pp = 2 * p * (n + 1);
  const qq = 2 * q * (n + 1);
  const pq = 2 * (p * n + q);
  const er = z[pq];
  const ei = z[pq + 1];
  const dr = 0.5 * (z[qq] - z[pp]);
  const di = 0.5 * (z[qq + 1] - z[pp + 1]);
  // t = e / (d +- sqrt(d^2 + e^2)), the sign of the greater denominator.
  const sr = dr * dr - di * di + er * er - ei * ei;
  const si = 2 * (dr * di + er * ei);
  const size = Math.hypot(sr, si);
  let rr = Math.sqrt(0.5 * (size + Math.abs(sr)));
  let ri = rr === 0 ? 0 : si / (2 * rr);
  if (sr < 0) [rr, ri] = [ri, rr];
  if (dr * rr + di * ri < 0) [rr, ri] = [-rr, -ri];
  const nr = dr + rr;
  const ni = di + ri;
  const below = nr * nr + ni * ni;
  if (below === 0) return false;
  const tr = (er * nr + ei * ni) / below;
  const ti = (ei * nr - er * ni) / below;
  // c = 1/sqrt(1 + t^2), s = t c
  const ur = 1 + tr * tr - ti * ti;
  const ui = 2 * tr * ti;
  const uSize = Math.hypot(ur, ui);
  if (uSize < EXCEPTIONAL) return false;
  let wr = Math.sqrt(0.5 * (uSize + Math.abs(ur)));
  let wi = ui / (2 * wr);
  if (ur < 0) [wr, wi] = [wi, wr];
  if (wr < 0) [wr, wi] = [-wr, -wi];
  const cr = wr / uSize;
  const ci = -wi / uSize;
  const s = tr * cr - ti * ci;
  const o = tr * ci + ti * cr;
  // The diagonal moves by t e; the pair's coupling vanishes.
  const mr = tr * er - ti * ei;
  const mi = tr * ei + ti * er;
  // a, b: places of (k, p) and (k, q), or of their mirror images where those lie above the diagonal
  const line = 2 * n;
  for (let k = 0, a = 2 * p, b = 2 * q; k < n; k = (k + 1) | 0) {
    if (k !== p && k !== q) {
      const ar = z[a];
      const ai = z[a + 1];
      const br = z[b];
      const bi = z[b + 1];
      z[a] = cr * ar - ci * ai - s * br + o * bi;
      z[a + 1] = cr * ai + ci * ar - s * bi - o * br;
      z[b] = s * ar - o * ai + cr * br - ci * bi;
      z[b + 1] = s * ai + o * ar + cr * bi + ci * br;
    }
    a = (a + (k < p ? line : 2)) | 0;
    b = (b + (k < q ? line : 2)) | 0;
  }
  z[pp] -= mr;
  z[pp + 1] -= mi;
  z[qq] += mr;
  z[qq + 1] += mi;
  z[pq] = z[pq + 1] = 0;
  const apart = ((q - p) * height) | 0;
  for (let k = p * height, end = k + height; k < end; k = (k + 1) | 0) {
    const l = (k + apart) | 0;
    const ar = vr[k];
    const ai = vi[k];
    const br = vr[l];
    const bi = vi[l];
    vr[k] = cr * ar - ci * ai - s * br + o * bi;
    vi[k] = cr * ai + ci * ar - s * bi - o * br;
    vr[l] = s * ar - o * ai + cr * br - ci * bi;
    vi[l] = s * ai + o * ar + cr * bi + ci * br;
  }
  return true;
}

/** F_pq = A_pq/(A_qq - A_pp) as row q, column p, and the diagonal with its second-order change. */
function smallTurns(
  z: Float64Array,
  n: number,
  values: { re: Float64Array; im: Float64Array },
): readonly [Float64Array, Float64Array] {
  const fr = new Float64Array(n * n);
  const fi = new Float64Array(n * n);
  for (let p = 0; p < n; p++) {
    const pp = 2 * p * (n + 1);
    values.re[p] += z[pp];
    values.im[p] += z[pp + 1];
    for (let q = p + 1; q < n; q++) {
      const qq = 2 * q * (n + 1);
      const er = z[2 * (p * n + q)];
      const ei = z[2 * (p * n + q) + 1];
      const dr = z[qq] - z[pp];
      const di = z[qq + 1] - z[pp + 1];
      const size = dr * dr + di * di;
      if ((er === 0 && ei === 0) || size === 0) continue;
      const a = (er * dr + ei * di) / size;
      const b = (ei * dr - er * di) / size;
      fr[q * n + p] = a;
      fi[q * n + p] = b;
      fr[p * n + q] = -a;
      fi[p * n + q] = -b;
      const mr = a * er - b * ei;
      const mi = a * ei + b * er;
      values.re[q] += mr;
      values.im[q] += mi;
      values.re[p] -= mr;
      values.im[p] -= mi;
    }
  }
  return [fr, fi];
}
