import fc from "fast-check";
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { opened } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import { generalizedSymmetricEigen, symmetricEigen } from "./symmetricEigen.ts";
import { tridiagonalize, tridiagonalQl } from "./tridiagonal.ts";

function randomSymmetric(seed: number, n: number, rank = n): Float64Array {
  const random = seededRandom(seed);
  const a = new Float64Array(n * n);
  for (let r = 0; r < rank; r++) {
    const v = Array.from({ length: n }, () => random() - 0.5);
    const sign = random() < 0.3 ? -1 : 1;
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) a[i * n + j] += sign * v[i] * v[j];
  }
  return a;
}

/** Largest entry of A X - B X L and of X' B X - 1. */
function pairsGap(
  a: Float64Array,
  b: Float64Array,
  n: number,
  pairs: { values: Float64Array; vectors: Float64Array },
) {
  const times = (m: Float64Array, x: Float64Array, i: number): number =>
    x.reduce((sum, v, j) => sum + m[i * n + j] * v, 0);
  let residual = 0;
  let orthogonality = 0;
  for (let p = 0; p < n; p++) {
    const x = pairs.vectors.subarray(p * n, p * n + n);
    const bx = Float64Array.from({ length: n }, (_, i) => times(b, x, i));
    for (let i = 0; i < n; i++)
      residual = Math.max(residual, Math.abs(times(a, x, i) - pairs.values[p] * bx[i]));
    for (let q = 0; q < n; q++) {
      const dot = bx.reduce((sum, v, i) => sum + v * pairs.vectors[q * n + i], 0);
      orthogonality = Math.max(orthogonality, Math.abs(dot - (p === q ? 1 : 0)));
    }
  }
  return Math.max(residual, orthogonality);
}

const unit = (n: number): Float64Array =>
  Float64Array.from({ length: n * n }, (_, k) => (k % (n + 1) === 0 ? 1 : 0));

describe("symmetricEigen", () => {
  it("gives orthonormal eigenpairs of full, rank-deficient and diagonal matrices, ascending", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 0, max: 30 }),
        (seed, n, rank) => {
          const a = randomSymmetric(seed, n, rank);
          const pairs = symmetricEigen(a, n);
          expect(pairsGap(a, unit(n), n, pairs)).toBeLessThan(1e-12);
          expect([...pairs.values]).toEqual([...pairs.values].sort((p, q) => p - q));
        },
      ),
      { seed: 6 },
    );
  });

  it("agrees with an independent implementation (ml-matrix) on 60 x 60", () => {
    const a = randomSymmetric(3, 60);
    const rows = Array.from({ length: 60 }, (_, i) => Array.from(a.subarray(i * 60, i * 60 + 60)));
    const theirs = new EigenvalueDecomposition(new Matrix(rows), { assumeSymmetric: true }).realEigenvalues;
    theirs.sort((p, q) => p - q);
    const ours = symmetricEigen(a, 60).values;
    expect(Math.max(...theirs.map((v, i) => Math.abs(v - ours[i])))).toBeLessThan(1e-12);
  });

  it("forms only the last components of the vectors when only those are asked", () => {
    const a = randomSymmetric(9, 20);
    const full = symmetricEigen(a, 20);
    const t = tridiagonalize(a, 20, 4);
    opened(tridiagonalQl(t));
    const order = Array.from({ length: 20 }, (_, i) => i).sort((p, q) => t.diagonal[p] - t.diagonal[q]);
    order.forEach((from, to) => {
      for (let c = 0; c < 4; c++) {
        expect(Math.abs(t.basis[4 * from + c])).toBeCloseTo(Math.abs(full.vectors[to * 20 + 16 + c]), 12);
      }
    });
  });
});

describe("generalizedSymmetricEigen", () => {
  it("gives pairs orthonormal in the right-hand matrix", () => {
    for (const n of [1, 2, 7, 24]) {
      const a = randomSymmetric(n, n);
      const b = unit(n).map((v, k) => v + 0.02 * Math.cos((k % n) + Math.floor(k / n)));
      expect(pairsGap(a, b, n, opened(generalizedSymmetricEigen(a, b, n)))).toBeLessThan(1e-12);
    }
  });

  it("refuses a right-hand matrix that is not positive definite", () => {
    const outcome = generalizedSymmetricEigen(unit(2), Float64Array.of(1, 0, 0, -1), 2);
    expect(outcome).toMatchObject({ ok: false, reason: "not-positive-definite" });
  });
});
