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
 * count x count, row by row; USED UP. rowsRe, rowsIm: forms (rows x count), kept.
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
  // Forms column by column: a rotation mixes two contiguous stretches.
  const vr = transposed(rowsRe, height, n);
  const vi = transposed(rowsIm, height, n);
  const merged = new Set<number>();
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    merged.clear();
    let turned = 0;
    for (let apart = 1; apart < n; apart++) {
      for (let p = 0; p + apart < n; p++) {
        const q = p + apart;
        const er = re[p * n + q];
        const ei = im[p * n + q];
        const dr = re[q * n + q] - re[p * n + p];
        const di = im[q * n + q] - im[p * n + p];
        if (er * er + ei * ei <= COUPLED * COUPLED * (dr * dr + di * di)) continue;
        if (turn(re, im, n, p, q, vr, vi, height)) turned++;
        else merged.add(p).add(q);
      }
    }
    if (turned === 0) break;
  }
  const values = { re: new Float64Array(n), im: new Float64Array(n) };
  const [fr, fi] = smallTurns(re, im, n, values);
  invariant(values.re.every(Number.isFinite), () => "a complex mode is not finite");
  const outRe = new Float64Array(height * n);
  const outIm = new Float64Array(height * n);
  // V + V F, F antisymmetric: column q gains sum_p V_p F_pq.
  for (let q = 0; q < n; q++) {
    const gr = vr.slice(q * height, (q + 1) * height);
    const gi = vi.slice(q * height, (q + 1) * height);
    for (let p = 0; p < n; p++) {
      const a = fr[p * n + q];
      const b = fi[p * n + q];
      if (a === 0 && b === 0) continue;
      for (let k = 0; k < height; k++) {
        gr[k] += a * vr[p * height + k] - b * vi[p * height + k];
        gi[k] += a * vi[p * height + k] + b * vr[p * height + k];
      }
    }
    for (let k = 0; k < height; k++) {
      outRe[k * n + q] = gr[k];
      outIm[k * n + q] = gi[k];
    }
  }
  return { ...values, rowsRe: outRe, rowsIm: outIm, merged };
}

/** One rotation of the pair p < q; false at an exceptional point. */
function turn(
  re: Float64Array,
  im: Float64Array,
  n: number,
  p: number,
  q: number,
  vr: Float64Array,
  vi: Float64Array,
  height: number,
): boolean {
  const er = re[p * n + q];
  const ei = im[p * n + q];
  const dr = 0.5 * (re[q * n + q] - re[p * n + p]);
  const di = 0.5 * (im[q * n + q] - im[p * n + p]);
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
  const z = tr * ci + ti * cr;
  // The diagonal moves by t e; the pair's coupling vanishes.
  const mr = tr * er - ti * ei;
  const mi = tr * ei + ti * er;
  for (let k = 0; k < n; k++) {
    if (k === p || k === q) continue;
    const ar = re[p * n + k];
    const ai = im[p * n + k];
    const br = re[q * n + k];
    const bi = im[q * n + k];
    const xr = cr * ar - ci * ai - s * br + z * bi;
    const xi = cr * ai + ci * ar - s * bi - z * br;
    const yr = s * ar - z * ai + cr * br - ci * bi;
    const yi = s * ai + z * ar + cr * bi + ci * br;
    re[p * n + k] = xr;
    im[p * n + k] = xi;
    re[q * n + k] = yr;
    im[q * n + k] = yi;
    re[k * n + p] = xr;
    im[k * n + p] = xi;
    re[k * n + q] = yr;
    im[k * n + q] = yi;
  }
  re[p * n + p] -= mr;
  im[p * n + p] -= mi;
  re[q * n + q] += mr;
  im[q * n + q] += mi;
  re[p * n + q] = im[p * n + q] = re[q * n + p] = im[q * n + p] = 0;
  const [a, b] = [p * height, q * height];
  for (let k = 0; k < height; k++) {
    const ar = vr[a + k];
    const ai = vi[a + k];
    const br = vr[b + k];
    const bi = vi[b + k];
    vr[a + k] = cr * ar - ci * ai - s * br + z * bi;
    vi[a + k] = cr * ai + ci * ar - s * bi - z * br;
    vr[b + k] = s * ar - z * ai + cr * br - ci * bi;
    vi[b + k] = s * ai + z * ar + cr * bi + ci * br;
  }
  return true;
}

/** F_pq = A_pq/(A_qq - A_pp), and the diagonal with its second-order change. */
function smallTurns(
  re: Float64Array,
  im: Float64Array,
  n: number,
  values: { re: Float64Array; im: Float64Array },
): readonly [Float64Array, Float64Array] {
  const fr = new Float64Array(n * n);
  const fi = new Float64Array(n * n);
  for (let p = 0; p < n; p++) {
    values.re[p] += re[p * n + p];
    values.im[p] += im[p * n + p];
    for (let q = 0; q < n; q++) {
      if (p === q) continue;
      const er = re[p * n + q];
      const ei = im[p * n + q];
      const dr = re[q * n + q] - re[p * n + p];
      const di = im[q * n + q] - im[p * n + p];
      const size = dr * dr + di * di;
      if ((er === 0 && ei === 0) || size === 0) continue;
      const a = (er * dr + ei * di) / size;
      const b = (ei * dr - er * di) / size;
      fr[p * n + q] = a;
      fi[p * n + q] = b;
      values.re[q] += a * er - b * ei;
      values.im[q] += a * ei + b * er;
    }
  }
  return [fr, fi];
}
