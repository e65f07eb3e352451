import type { PanelEdges } from "./panelEdges.ts";

/**
 * Standing waves that are finite everywhere, psi_lm = j_l(k r) Y_lm, about a centre; Y real and orthonormal. With them
 *   sin(k |x - y|)/(4 pi |x - y|) = k sum psi(x) psi(y)
 * and the wave that patterns v and pressures p (per unit acceleration and density) on a surface send to infinity is
 *   f(d) = sum i^l Y_lm(d) c_lm,   c = integral of psi v + dpsi/dn p,   p(R d) -> f(d) exp(-ikR)/R
 * so that integral |f|2 over all directions = sum |c|2. Both are the addition theorem; from memory, tested.
 */
export interface RegularWaves {
  /** (degree + 1)^2, degree by degree: m = 0, then cosine and sine of m = 1, 2 ... */
  readonly count: number;
  /** count x edges: psi at the middles. */
  readonly value: Float64Array;
  /** count x edges: its gradient times the edge's area vector (`facing`). */
  readonly slope: Float64Array;
}

/**
 * What of the waves does not change with frequency: the solid harmonics S = (r/radius)^l Y at the middles and the share of their
 * gradients along the area vectors, up to `degree`.
 */
export interface SolidHarmonics extends RegularWaves {
  readonly degree: number;
  readonly radius: number;
  /** By edge: squared distance of the middle from the centre (m2), and its vector from there times the area vector (m3). */
  readonly square: Float64Array;
  readonly outward: Float64Array;
}

/**
 * Regular solid harmonics R_l^m = r^l P_l^m exp(i m phi)/(l + m)! by
 *   R_m^m = (x + iy)/(2m) R_(m-1)^(m-1),   (l2 - m2) R_l^m = (2l - 1) z R_(l-1)^m - r2 R_(l-2)^m
 *   d/dz R_l^m = R_(l-1)^m,   (d/dx - i d/dy) R_l^m = R_(l-1)^(m-1),   (d/dx + i d/dy) R_l^m = -R_(l-1)^(m+1)
 */
export function solidHarmonics(
  { count: edges, middle, facing }: PanelEdges,
  centre: ArrayLike<number>,
  radius: number,
  degree: number,
): SolidHarmonics {
  const count = (degree + 1) ** 2;
  const value = new Float64Array(count * edges);
  const slope = new Float64Array(count * edges);
  const square = new Float64Array(edges);
  const outward = new Float64Array(edges);
  const norms = harmonicNorms(degree);
  const size = ((degree + 1) * (degree + 2)) / 2;
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  for (let e = 0; e < edges; e++) {
    const x = (middle[3 * e] - centre[0]) / radius;
    const y = (middle[3 * e + 1] - centre[1]) / radius;
    const z = (middle[3 * e + 2] - centre[2]) / radius;
    const wx = facing[3 * e] / radius;
    const wy = facing[3 * e + 1] / radius;
    const wz = facing[3 * e + 2] / radius;
    const r2 = x * x + y * y + z * z;
    square[e] = r2 * radius * radius;
    outward[e] = (x * wx + y * wy + z * wz) * radius * radius;
    fillSolid(degree, x, y, z, r2, re, im);
    for (let l = 0; l <= degree; l++) {
      const row = (l * (l + 1)) / 2;
      const below = row - l;
      for (let m = 0; m <= l; m++) {
        const norm = norms[row + m];
        // Gradients along x and y from the neighbours below; R^-1 = -conj(R^1), nothing above m = l - 1.
        const downRe = m > 0 ? re[below + m - 1] : l > 1 ? -re[below + 1] : 0;
        const downIm = m > 0 ? im[below + m - 1] : l > 1 ? im[below + 1] : 0;
        const upRe = m + 1 < l ? re[below + m + 1] : 0;
        const upIm = m + 1 < l ? im[below + m + 1] : 0;
        const sameRe = m < l ? re[below + m] : 0;
        const sameIm = m < l ? im[below + m] : 0;
        const at = (l * l + (m === 0 ? 0 : 2 * m - 1)) * edges + e;
        value[at] = norm * re[row + m];
        slope[at] = norm * (0.5 * (wx * (downRe - upRe) - wy * (downIm + upIm)) + wz * sameRe);
        if (m === 0) continue;
        value[at + edges] = norm * im[row + m];
        slope[at + edges] = norm * (0.5 * (wx * (downIm - upIm) + wy * (downRe + upRe)) + wz * sameIm);
      }
    }
  }
  return { count, degree, value, slope, radius, square, outward };
}

/** sqrt((2l + 1)/(4 pi) (l - m)! (l + m)!), times sqrt 2 for m > 0, at l (l + 1)/2 + m. */
function harmonicNorms(degree: number): Float64Array {
  const norms = new Float64Array(((degree + 1) * (degree + 2)) / 2);
  let factorial = 1;
  for (let l = 0; l <= degree; l++) {
    if (l > 0) factorial *= l;
    let product = factorial * factorial;
    for (let m = 0; m <= l; m++) {
      if (m > 0) product *= (l + m) / (l - m + 1);
      norms[(l * (l + 1)) / 2 + m] = Math.sqrt(((2 * l + 1) / (4 * Math.PI)) * product * (m > 0 ? 2 : 1));
    }
  }
  return norms;
}

/** R_l^m, m >= 0, at l (l + 1)/2 + m. */
function fillSolid(
  degree: number,
  x: number,
  y: number,
  z: number,
  r2: number,
  re: Float64Array,
  im: Float64Array,
): void {
  re[0] = 1;
  im[0] = 0;
  for (let m = 0; m <= degree; m++) {
    const own = (m * (m + 1)) / 2 + m;
    if (m > 0) {
      const before = own - m - 1;
      re[own] = (x * re[before] - y * im[before]) / (2 * m);
      im[own] = (x * im[before] + y * re[before]) / (2 * m);
    }
    for (let l = m + 1; l <= degree; l++) {
      const at = (l * (l + 1)) / 2 + m;
      const one = at - l;
      const two = one - l + 1;
      const scale = 1 / (l * l - m * m);
      const further = l > m + 1 ? r2 : 0;
      re[at] = ((2 * l - 1) * z * re[one] - (further === 0 ? 0 : further * re[two])) * scale;
      im[at] = ((2 * l - 1) * z * im[one] - (further === 0 ? 0 : further * im[two])) * scale;
    }
  }
}

/** Degree that leaves out less than 1e-6 of sin(k d)/(k d) between any two places within the radius. */
export function waveDegree(k: number, radius: number): number {
  return Math.ceil(k * radius) + 4;
}

/**
 * The waves of one frequency up to `waveDegree`: psi = kappa^l t_l(k r) S, kappa = k radius, t_l(x) = j_l(x)/x^l with
 *   t_(l-1) = (2l + 1) t_l - x2 t_(l+1),   d t_l/dx = -x t_(l+1)
 */
export function regularWaves(solid: SolidHarmonics, k: number): RegularWaves {
  const { radius, square, outward } = solid;
  const degree = Math.min(solid.degree, waveDegree(k, radius));
  const count = (degree + 1) ** 2;
  const edges = square.length;
  // kappa^l t_l and kappa^l t_l' times the outward share of the area vector, by degree and edge.
  const radial = new Float64Array((degree + 1) * edges);
  const across = new Float64Array((degree + 1) * edges);
  for (let e = 0; e < edges; e++) {
    const x2 = k * k * square[e];
    const turn = -k * k * outward[e];
    let above = reducedBessel(degree + 1, x2);
    let own = reducedBessel(degree, x2);
    for (let l = degree; l >= 0; l--) {
      radial[l * edges + e] = own;
      across[l * edges + e] = turn * above;
      const below = (2 * l + 1) * own - x2 * above;
      above = own;
      own = below;
    }
  }
  const value = new Float64Array(count * edges);
  const slope = new Float64Array(count * edges);
  for (let l = 0; l <= degree; l++) {
    const power = (k * radius) ** l;
    for (let row = l * l; row < (l + 1) * (l + 1); row++) {
      for (let e = 0; e < edges; e++) {
        const i = row * edges + e;
        const t = power * radial[l * edges + e];
        value[i] = t * solid.value[i];
        slope[i] = t * solid.slope[i] + power * across[l * edges + e] * solid.value[i];
      }
    }
  }
  return { count, value, slope };
}

/** j_l(x)/x^l by its series in x2, for x below l or so. */
function reducedBessel(l: number, x2: number): number {
  let term = 1;
  for (let i = 1; i <= l; i++) term /= 2 * i + 1;
  let sum = term;
  for (let s = 1; Math.abs(term) > 1e-17 * Math.abs(sum); s++) {
    term *= -x2 / (2 * s * (2 * l + 2 * s + 1));
    sum += term;
  }
  return sum;
}
