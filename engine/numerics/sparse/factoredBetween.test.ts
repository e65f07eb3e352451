import { expect, it } from "vitest";
import { opened } from "../outcome.ts";
import { seededRandom } from "../random/seededRandom.ts";
import { factoredBetween } from "./factoredBetween.ts";
import { factorize } from "./factorize.ts";
import { solveFactored } from "./solveFactored.ts";
import { addElements, symmetricPattern } from "./symmetric.ts";

/** Springs along the edges of a square lattice, and to the ground. */
function lattice(side: number) {
  const random = seededRandom(4);
  const n = side * side;
  const edges: Int32Array[] = [];
  for (let i = 0; i < n; i++) {
    if (i % side < side - 1) edges.push(Int32Array.of(i, i + 1));
    if (i + side < n) edges.push(Int32Array.of(i, i + side));
  }
  const a = symmetricPattern(n, edges);
  for (const edge of edges) {
    const k = 0.5 + random();
    addElements([a], edge, [Float64Array.of(k, -k, -k, k)]);
  }
  for (let i = 0; i < n; i++) addElements([a], Int32Array.of(i), [Float64Array.of(0.01)]);
  return a;
}

it("says between sparse rows what solving for each of them says", () => {
  const a = lattice(23);
  const random = seededRandom(9);
  const rows = {
    start: Uint32Array.of(0, 1, 4, 6, 6, 9, 10),
    row: Uint32Array.of(17, 17, 300, 301, 528, 0, 100, 122, 17, 411),
    weight: Float64Array.from({ length: 10 }, () => random() - 0.5),
  };
  const size = rows.start.length - 1;
  const b = new Float64Array(size * a.n);
  for (let k = 0; k < size; k++)
    for (let p = rows.start[k]; p < rows.start[k + 1]; p++) b[k * a.n + rows.row[p]] += rows.weight[p];
  for (const indefinite of [false, true]) {
    const values = a.values.slice();
    if (indefinite) for (let j = 0; j < a.n; j++) values[a.colStart[j]] -= 1.7;
    const factor = opened(factorize({ ...a, values }, { indefinite }));
    expect(factor.negatives > 0).toBe(indefinite);
    const x = solveFactored(factor, b, size);
    const between = factoredBetween(factor, rows);
    const scale = Math.max(...between.map(Math.abs));
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) {
        let sum = 0;
        for (let r = 0; r < a.n; r++) sum += b[i * a.n + r] * x[j * a.n + r];
        expect(Math.abs(between[size * i + j] - sum)).toBeLessThan(1e-10 * scale);
      }
    }
  }
});
