import { type ComplexLu, complexLu, complexLuSolve, opened, seededRandom } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { stringPartials } from "#engine/strings";
import type { BridgeModes } from "./bridgeModes.ts";

/**
 * The slow twin of the secular solver, for tests: body coordinates and `partials` sine modes in each direction as dense
 * matrices K (complex) and M (real), K x = lambda M x, without residual or rigid motions.
 */
export interface DenseSystem {
  readonly n: number;
  readonly stiffnessRe: Float64Array;
  readonly stiffnessIm: Float64Array;
  readonly mass: Float64Array;
}

export function denseSystem(s: StretchedString, body: BridgeModes, partials: number): DenseSystem {
  const modes = body.omega.length;
  const n = modes + 2 * partials;
  const stiffnessRe = new Float64Array(n * n);
  const stiffnessIm = new Float64Array(n * n);
  const mass = new Float64Array(n * n);
  const m = s.linearDensity * s.length;
  for (let i = 0; i < modes; i++) {
    for (let j = 0; j < modes; j++) {
      const same = body.shape[3 * i]! * body.shape[3 * j]! + body.shape[3 * i + 1]! * body.shape[3 * j + 1]!;
      const own = i === j ? body.omega[i]! ** 2 : 0;
      stiffnessRe[i * n + j] = own + (s.tension / s.length) * same;
      stiffnessIm[i * n + j] = own / body.q[i]! + (s.tension / s.length) * s.loss.friction * same;
      mass[i * n + j] = (i === j ? 1 : 0) + (m / 3) * same;
    }
  }
  const own = stringPartials(s, partials);
  for (let k = 0; k < partials; k++) {
    for (let direction = 0; direction < 2; direction++) {
      const at = modes + 2 * k + direction;
      const square = (m / 2) * own.omega[k]! ** 2;
      stiffnessRe[at * n + at] = square;
      stiffnessIm[at * n + at] = square * own.lossFactor[k]!;
      mass[at * n + at] = m / 2;
      for (let i = 0; i < modes; i++) {
        // integral of mu (x/L) sin((k+1) pi x/L), x from the far end
        const shared = ((m * (-1) ** k) / ((k + 1) * Math.PI)) * body.shape[3 * i + direction]!;
        mass[at * n + i] = shared;
        mass[i * n + at] = shared;
      }
    }
  }
  return { n, stiffnessRe, stiffnessIm, mass };
}

/** Solves (K - lambda M) x = f for complex lambda; x as [re, im]. */
export function denseResponse(
  d: DenseSystem,
  lambda: readonly [number, number],
  force: Float64Array,
): readonly [Float64Array, Float64Array] {
  const re = d.stiffnessRe.map((k, i) => k - lambda[0] * d.mass[i]!);
  const im = d.stiffnessIm.map((k, i) => k - lambda[1] * d.mass[i]!);
  const lu: ComplexLu = opened(complexLu(re, im, d.n));
  const x = complexLuSolve(lu, force, new Float64Array(d.n));
  return [x.re, x.im];
}

/** A body of `count` modes spread over `low` to `high` Hz with random masses, directions, losses and pressures. */
export function randomBody(seed: number, count: number, low: number, high: number): BridgeModes {
  const random = seededRandom(seed);
  const omega = new Float64Array(count);
  const q = new Float64Array(count);
  const shape = new Float64Array(3 * count);
  const pressure = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    omega[i] = 2 * Math.PI * (low + ((high - low) * (i + random())) / count);
    q[i] = 15 + 60 * random();
    const size = 1 / Math.sqrt(0.08 + 2 * random() ** 2);
    const angle = 2 * Math.PI * random();
    shape[3 * i] = size * Math.cos(angle);
    shape[3 * i + 1] = 0.5 * size * Math.sin(angle);
    shape[3 * i + 2] = 0.3 * size;
    pressure[i] = 0.05 * (random() - 0.5);
  }
  return { omega, q, shape, residual: new Float64Array(9), pressure };
}
