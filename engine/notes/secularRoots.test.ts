import { EigenvalueDecomposition, inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import type { BridgeModes } from "./bridgeModes.ts";
import { bodyPoles, crownSystem } from "./crownSystem.ts";
import { type DenseSystem, denseSystem, randomBody } from "./denseSystem.fixture.ts";
import { secularRoots } from "./secularRoots.ts";

const lowE: StretchedString = {
  length: 0.65,
  linearDensity: 0.0065,
  tension: 75,
  bendingStiffness: 3e-4,
  loss: { friction: 3e-4, bending: 0.02, air: 0.2 },
};

/** Eigenvalues of the dense twin by a general real solver on [[A, -B], [B, A]], those with positive imaginary part. */
function denseRoots(d: DenseSystem): [number, number][] {
  const grid = (a: Float64Array) =>
    new Matrix(Array.from({ length: d.n }, (_, i) => Array.from(a.subarray(i * d.n, (i + 1) * d.n))));
  const massInverse = inverse(grid(d.mass));
  const a = massInverse.mmul(grid(d.stiffnessRe));
  const b = massInverse.mmul(grid(d.stiffnessIm));
  const both = Matrix.zeros(2 * d.n, 2 * d.n);
  both.setSubMatrix(a, 0, 0).setSubMatrix(b, d.n, 0).setSubMatrix(a, d.n, d.n);
  both.setSubMatrix(Matrix.mul(b, -1), 0, d.n);
  const found = new EigenvalueDecomposition(both, { assumeSymmetric: false });
  return found.realEigenvalues
    .map((re, i): [number, number] => [re, found.imaginaryEigenvalues[i]!])
    .filter(([, im]) => im > 0)
    .sort((x, y) => x[0] - y[0]);
}

/** Largest relative distance of a root from the nearest unused dense eigenvalue. */
function worstGap(body: BridgeModes, partials: number): number {
  const whole = crownSystem(lowE, bodyPoles(body), 1000);
  const cut = {
    ...whole,
    string: {
      count: partials,
      re: whole.string.re.slice(0, partials),
      im: whole.string.im.slice(0, partials),
    },
    endWeight: whole.endWeight.slice(0, partials),
    endTail: new Float64Array(6),
  };
  const roots = opened(secularRoots(cut, Number.POSITIVE_INFINITY));
  const dense = denseRoots(denseSystem(lowE, body, partials));
  expect(dense).toHaveLength(body.omega.length + 2 * partials);
  expect(roots.count).toBe(dense.length);
  let worst = 0;
  for (let k = 0; k < roots.count; k++) {
    const gaps = dense.map(([re, im]) => Math.hypot(re - roots.re[k]!, im - roots.im[k]!));
    const nearest = gaps.indexOf(Math.min(...gaps));
    worst = Math.max(worst, gaps[nearest]! / Math.hypot(...dense[nearest]!));
    dense.splice(nearest, 1);
  }
  return worst;
}

describe("roots of the secular function", () => {
  for (const seed of [1, 2, 3, 4, 5, 6])
    it(`are all eigenvalues of the dense problem, each once (seed ${seed})`, () => {
      expect(worstGap(randomBody(seed, 24, 70, 700), 8)).toBeLessThan(1e-9);
    });

  it("are found where body modes lie exactly on partials", () => {
    const body = randomBody(11, 6, 70, 700);
    const partials = crownSystem(lowE, bodyPoles(body), 700).string;
    for (let i = 0; i < 6; i++) body.omega[i] = Math.sqrt(partials.re[i]!);
    expect(worstGap(body, 8)).toBeLessThan(1e-9);
  });

  it("are found where two body modes coincide with each other and nearly with a partial", () => {
    const body = randomBody(12, 6, 70, 700);
    const partials = crownSystem(lowE, bodyPoles(body), 700).string;
    body.omega[1] = Math.sqrt(partials.re[1]!) * 1.0001;
    body.omega[2] = body.omega[1]!;
    body.q[2] = body.q[1]!;
    expect(worstGap(body, 8)).toBeLessThan(1e-8);
  });

  it("are found for a bridge that hardly moves and for one as light as the string", () => {
    const body = randomBody(13, 10, 70, 700);
    const scaled = (factor: number) => ({ ...body, shape: body.shape.map((x) => x * factor) });
    expect(worstGap(scaled(1e-3), 8)).toBeLessThan(1e-9);
    expect(worstGap(scaled(6), 8)).toBeLessThan(1e-9);
  });
});
