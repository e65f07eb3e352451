import { describe, expect, it } from "vitest";
import { triangleRule } from "#engine/numerics";
import type { ExteriorSurface } from "./exterior.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { staticTriangle, triangleFrames } from "./staticTriangle.ts";

const one: ExteriorSurface = {
  nodes: Float64Array.of(0.1, 0.2, -0.3, 1.2, 0.1, 0.4, 0.4, 0.9, 0.2),
  triangles: Uint32Array.of(0, 1, 2),
  part: new Uint8Array(1),
};

/** The same integrals by a fine product rule on 4^cuts pieces. */
function byQuadrature(x: readonly number[], cuts: number): number[] {
  const { normal } = panelGeometry(one);
  const { points, weights } = triangleRule(8);
  const sums = [0, 0, 0, 0, 0, 0];
  const area = panelGeometry(one).area[0];
  const visit = (corners: number[][], depth: number): void => {
    if (depth > 0) {
      const [a, b, c] = corners;
      const middle = (p: number[], q: number[]) => p.map((v, d) => 0.5 * (v + q[d]));
      const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
      for (const part of [
        [a, ab, ca],
        [ab, b, bc],
        [ca, bc, c],
        [ab, bc, ca],
      ])
        visit(part, depth - 1);
      return;
    }
    for (let g = 0; g < weights.length; g++) {
      const hat = [0, 1, 2].map((m) => corners.reduce((s, c, k) => s + points[3 * g + k] * c[m], 0));
      const y = [0, 1, 2].map((d) => hat.reduce((s, h, m) => s + h * one.nodes[3 * m + d], 0));
      const r = Math.hypot(x[0] - y[0], x[1] - y[1], x[2] - y[2]);
      const facing = [0, 1, 2].reduce((s, d) => s + (x[d] - y[d]) * normal[d], 0);
      const w = (weights[g] * area) / 4 ** cuts;
      for (let m = 0; m < 3; m++) {
        sums[m] += (w * hat[m]) / r;
        sums[3 + m] += (w * hat[m] * facing) / r ** 3;
      }
    }
  };
  visit(
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    cuts,
  );
  return sums;
}

describe("staticTriangle", () => {
  const frames = triangleFrames(panelGeometry(one));
  const at = (x: readonly number[]): number[] => {
    const single = new Float64Array(3);
    const double = new Float64Array(3);
    staticTriangle(frames, 0, x[0], x[1], x[2], single, double);
    return [...single, ...double];
  };

  for (const [name, x] of [
    ["above it", [0.5, 0.4, 0.6]],
    ["below it", [0.6, 0.5, -0.5]],
    ["far to the side", [-2, 1, 0.3]],
    ["beside an edge, past its end", [1.9, -0.5, 0.7]],
  ] as const) {
    it(`agrees with quadrature from a point ${name}`, () => {
      const wanted = byQuadrature(x, 4);
      at(x).forEach((v, i) => {
        expect(Math.abs(v - wanted[i])).toBeLessThan(1e-9 * Math.hypot(...wanted));
      });
    });
  }

  it("has double sources that jump by 4 pi times the hat across the plane", () => {
    const { normal, centre } = panelGeometry(one);
    const side = (s: number) => at([0, 1, 2].map((d) => centre[d] + s * 1e-7 * normal[d]));
    const [up, down] = [side(1), side(-1)];
    for (let m = 3; m < 6; m++) expect((up[m] - down[m]) / ((4 * Math.PI) / 3)).toBeCloseTo(1, 5);
  });
});
