import { expect, it } from "vitest";
import { nodalStrains } from "./nodalStrains.ts";

/** Squares of 10 mm cut in two, n by n. */
function grid(n: number) {
  const plan = new Float64Array(2 * (n + 1) ** 2);
  const triangles: number[] = [];
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) plan.set([0.01 * i, 0.01 * j], 2 * ((n + 1) * i + j));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [a, b, c, d] = [
        (n + 1) * i + j,
        (n + 1) * (i + 1) + j,
        (n + 1) * (i + 1) + j + 1,
        (n + 1) * i + j + 1,
      ];
      triangles.push(a, b, c, a, c, d);
    }
  }
  return { plan, triangles: Uint32Array.from(triangles) };
}

const field = (x: number, y: number, k: number): number => (k + 1) * (1 + 3 * x - 2 * y);

function meanField({ plan, triangles }: ReturnType<typeof grid>, of: typeof field): Float64Array {
  return Float64Array.from({ length: (8 * triangles.length) / 3 }, (_, at) => {
    const [e, k] = [Math.floor(at / 8), at % 8];
    const [x, y] = [0, 1].map(
      (q) => [0, 1, 2].reduce((sum, c) => sum + plan[2 * triangles[3 * e + c] + q], 0) / 3,
    );
    return of(x, y, k);
  });
}

it("gives back a field that is linear in the plan, at edges and corners too", () => {
  const mesh = grid(6);
  const region = new Uint32Array(mesh.triangles.length / 3);
  const found = nodalStrains({ ...mesh, region, strains: meanField(mesh, field) });
  expect(found.node.length).toBe(49);
  found.node.forEach((node, p) => {
    for (let k = 0; k < 8; k++)
      expect(found.strains[8 * p + k]).toBeCloseTo(
        field(mesh.plan[2 * node], mesh.plan[2 * node + 1], k),
        12,
      );
  });
});

it("keeps what jumps between two regions apart, with a value for each on their border", () => {
  const mesh = grid(6);
  const left = (e: number): boolean => mesh.plan[2 * mesh.triangles[3 * e]] < 0.0299;
  const region = Uint32Array.from({ length: mesh.triangles.length / 3 }, (_, e) => (left(e) ? 0 : 1));
  const strains = meanField(mesh, (x) => (x < 0.03 ? 5 : -2));
  const found = nodalStrains({ ...mesh, region, strains });
  found.region.forEach((r, p) => {
    expect(found.strains[8 * p]).toBeCloseTo(r === 0 ? 5 : -2, 12);
  });
  const border = Array.from(found.node).filter((node) => Math.abs(mesh.plan[2 * node] - 0.03) < 1e-9);
  expect(border.length).toBe(14);
});
