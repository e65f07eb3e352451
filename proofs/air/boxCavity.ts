/** Boxes of air with a hole in the lid, by the engine and by the closed series over the box's own modes. */
import {
  type AirProperties,
  airProperties,
  type CavityModes,
  type CavitySpec,
  cavityModes,
} from "#engine/air";
import { opened, quiet, symmetricEigen } from "#engine/numerics";
import { ellipsePolygon } from "./shapes.ts";

export const air: AirProperties = airProperties({
  temperature: 293.15,
  pressure: 101325,
  relativeHumidity: 0.5,
});

export interface BoxHole {
  readonly x: number;
  readonly y: number;
  readonly a: number;
  readonly b: number;
}

export interface Box {
  readonly lengths: readonly [x: number, y: number, depth: number];
  readonly hole: BoxHole | null;
}

export function holeAt({ x, y, a, b }: BoxHole): Float64Array {
  return ellipsePolygon(a, b).map((v, i) => v + (i % 2 === 0 ? x : y));
}

export function boxSpec({ lengths: [lx, ly, depth], hole }: Box, over: Partial<CavitySpec> = {}): CavitySpec {
  return {
    outline: Float64Array.of(0, 0, lx, 0, lx, ly, 0, ly),
    top: { at: 0, perX: 0, dome: null },
    back: { at: -depth, perX: 0, dome: null },
    hole: hole && { polygon: holeAt(hole), wall: 0, scoop: { height: 0, wall: 0 } },
    solidVolume: 0,
    wallArea: null,
    leak: 0,
    air,
    toFrequency: 1000,
    size: 0.06,
    layers: 2,
    ...over,
  };
}

export function boxModes(box: Box, over: Partial<CavitySpec> = {}): CavityModes {
  return opened(cavityModes(boxSpec(box, over), quiet));
}

/** kg/m4: inertance of the first pattern inside, listed modes n >= 1 put back. */
export function wholeInner(cavity: CavityModes): number {
  const { aperture, omega, volume } = cavity;
  if (aperture === null) throw new Error("no hole");
  let sum = aperture.inner[0]!;
  for (let n = 1; n < cavity.count; n++)
    sum +=
      (cavity.air.density * cavity.air.soundSpeed ** 2 * aperture.coupling[n]! ** 2) /
      (volume[n]! * omega[n]! ** 2);
  return sum;
}

/**
 * Frequencies (Hz) at which the inside alone lets the opening's patterns move freely against `inertance`:
 *   det( inertance + sum_n kappa_n C_n C_n'/(omega_n2 - omega2) ) = 0,   found by counting negative eigenvalues and poles.
 */
export function openModes(cavity: CavityModes, inertance: Float64Array, top: number): number[] {
  const { aperture, omega, volume, count } = cavity;
  if (aperture === null) throw new Error("no hole");
  const patterns = aperture.count;
  return risingRoots(top, (f) => {
    const w2 = (2 * Math.PI * f) ** 2;
    const m = inertance.slice();
    for (let n = 0; n < count; n++) {
      const spring = (air.density * air.soundSpeed ** 2) / (volume[n]! * (omega[n]! ** 2 - w2));
      for (let i = 0; i < patterns; i++)
        for (let j = 0; j < patterns; j++)
          m[i * patterns + j]! +=
            spring * aperture.coupling[i * count + n]! * aperture.coupling[j * count + n]!;
    }
    const poles = omega.filter((w) => w < 2 * Math.PI * f).length;
    return poles - symmetricEigen(m, patterns).values.filter((v) => v < 0).length;
  });
}

/** Places where a never falling count rises, up to `top`. */
function risingRoots(top: number, count: (f: number) => number): number[] {
  const roots: number[] = [];
  let [from, before] = [1, count(1)];
  for (let f = 10; f <= top; f += 10) {
    const now = count(f);
    for (let j = before; j < now; j++) {
      let [low, high] = [from, f];
      for (let i = 0; i < 30; i++) {
        const middle = (low + high) / 2;
        if (count(middle) > j) high = middle;
        else low = middle;
      }
      roots.push(high);
    }
    [from, before] = [f, now];
  }
  return roots;
}

/** Spherical Bessel functions of order 0, and of orders 1 and 2 over x and x2. */
function bessel(x: number): readonly [number, number, number] {
  if (x < 0.02) return [1 - (x * x) / 6, 1 / 3 - (x * x) / 30, 1 / 15 - (x * x) / 210];
  const zero = Math.sin(x) / x;
  const one = (zero - Math.cos(x)) / x;
  return [zero, one / x, ((3 * one) / x - zero) / (x * x)];
}

/**
 * Inertance over density (1/m) of patterns 1, u, v, u2, uv, v2 times the flow of even potential through an elliptic hole
 * (u, v = place over the half axes), in a box with rigid walls, at k = omega/c:
 *   sum over the plan's modes of e/(Lx Ly) F_i F_j coth(g D)/g,   g2 = kx2 + ky2 - k2,   e = 1, 2, 4
 * F: the mode's average over the pattern; the flow of even potential has the transform sin(r)/r, r = |(kx a, ky b)|, the others
 * its derivatives. Depth is summed in closed form; modes above 60/b go into their mean (edge flow: 1/(4 pi a b K)). At k = 0
 * the even mode gives D/(3 Lx Ly) (its spring left out). Closed form, derived here.
 */
export function boxSeries(box: Box & { readonly hole: BoxHole }, k: number, patterns = 6): Float64Array {
  const [lx, ly, depth] = box.lengths;
  const { x, y, a, b } = box.hole;
  const top = 60 / Math.min(a, b);
  const sum = new Float64Array(36);
  for (let m = 0; (m * Math.PI) / lx <= top; m++) {
    for (let n = 0; (n * Math.PI) / ly <= top; n++) {
      const [kx, ky] = [(m * Math.PI) / lx, (n * Math.PI) / ly];
      const plan = Math.hypot(kx, ky);
      if (plan > top) continue;
      const g2 = plan * plan - k * k;
      const g = Math.sqrt(Math.abs(g2));
      const depthSum =
        g === 0 ? depth / 3 : g2 > 0 ? 1 / (g * Math.tanh(g * depth)) : -1 / (g * Math.tan(g * depth));
      const [p, q] = [kx * a, ky * b];
      const [zero, one, two] = bessel(Math.hypot(p, q));
      const [cx, sx, cy, sy] = [Math.cos(kx * x), Math.sin(kx * x), Math.cos(ky * y), Math.sin(ky * y)];
      const f = [
        cx * cy * zero,
        -sx * cy * p * one,
        -cx * sy * q * one,
        cx * cy * (one - p * p * two),
        sx * sy * p * q * two,
        cx * cy * (one - q * q * two),
      ];
      const weight = (((m > 0 ? 2 : 1) * (n > 0 ? 2 : 1)) / (lx * ly)) * depthSum;
      for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) sum[6 * i + j]! += weight * f[i]! * f[j]!;
    }
  }
  // Means of the patterns' products round the edge: 1, cos, sin, cos2, cos sin, sin2.
  const mean = [
    [1, 0, 0, 0.5, 0, 0.5],
    [0, 0.5, 0, 0, 0, 0],
    [0, 0, 0.5, 0, 0, 0],
    [0.5, 0, 0, 0.375, 0, 0.125],
    [0, 0, 0, 0, 0.125, 0],
    [0.5, 0, 0, 0.125, 0, 0.375],
  ];
  const out = new Float64Array(patterns * patterns);
  for (let i = 0; i < patterns; i++)
    for (let j = 0; j < patterns; j++)
      out[i * patterns + j] = sum[6 * i + j]! + mean[i]![j]! / (4 * Math.PI * a * b * top);
  return out;
}

/** Frequencies (Hz) of a box whose hole has zero pressure, by the series. */
export function seriesOpenModes(box: Box & { readonly hole: BoxHole }, top: number): number[] {
  const [lx, ly] = box.lengths;
  const poles: number[] = [];
  for (let m = 0; m < 12; m++)
    for (let n = 0; n < 12; n++) poles.push((air.soundSpeed / 2) * Math.hypot(m / lx, n / ly));
  return risingRoots(top, (f) => {
    const negative = symmetricEigen(boxSeries(box, (2 * Math.PI * f) / air.soundSpeed), 6);
    return poles.filter((p) => p < f).length - negative.values.filter((v) => v < 0).length;
  });
}
