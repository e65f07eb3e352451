import { expect, it } from "vitest";
import { type Laminate, laminate } from "../laminate.ts";
import { spruce } from "../spruce.fixture.ts";
import { edgeBeamGeometric } from "./edgeBeamGeometric.ts";
import { triangleScratch, triangleStrains } from "./shellTriangle.ts";
import { forcesOfStrains, triangleMeanStrains } from "./triangleForces.ts";
import { emptyTriangleGeometric, triangleGeometric } from "./triangleGeometric.ts";

const wood: Laminate = laminate([
  { material: spruce, angle: 0.4, bottom: -0.0014, top: 0.0014 },
  { material: spruce, angle: 2, bottom: 0.0014, top: 0.003 },
]);
const skew = Float64Array.of(0.01, 0.02, 0, 0.019, 0.023, 0, 0.013, 0.031, 0);
const lifted = Float64Array.of(0.01, 0.02, 0.001, 0.019, 0.023, -0.002, 0.013, 0.031, 0.003);

const form = (a: Float64Array, u: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < u.length; i++)
    for (let j = 0; j < u.length; j++) sum += u[i] * a[u.length * i + j] * u[j];
  return sum;
};
/** Rotation by e about the origin: displacement e x r and the rotation itself, by corner. */
const turned = (p: Float64Array, e: readonly number[]): number[] =>
  [0, 1, 2].flatMap((c) => {
    const [x, y, z] = p.subarray(3 * c, 3 * c + 3);
    return [e[1] * z - e[2] * y, e[2] * x - e[0] * z, e[0] * y - e[1] * x, ...e];
  });

it("constant strain, curvature and twist give the laminate's forces and moments exactly", () => {
  const strain = [1e-3, -0.7e-3, 0.4e-3, 0.9, -0.5, 0.6];
  const u = new Float64Array(18);
  for (let c = 0; c < 3; c++) {
    const [x, y] = [skew[3 * c], skew[3 * c + 1]];
    u[6 * c] = strain[0] * x + (strain[2] * y) / 2;
    u[6 * c + 1] = strain[1] * y + (strain[2] * x) / 2;
    u[6 * c + 2] = -(strain[3] * x * x + strain[4] * y * y + strain[5] * x * y) / 2;
    u[6 * c + 3] = -(strain[4] * y + (strain[5] * x) / 2);
    u[6 * c + 4] = strain[3] * x + (strain[5] * y) / 2;
  }
  const s = triangleScratch();
  const out = new Float64Array(8);
  triangleStrains(skew, wood, s);
  const strains = new Float64Array(8);
  triangleMeanStrains(u, s, strains, 0);
  forcesOfStrains(strains, wood, out, 0);
  for (let r = 0; r < 6; r++) {
    const exact = strain.reduce((sum, e, k) => sum + wood.stiffness[8 * r + k] * e, 0);
    expect(out[r] / exact).toBeCloseTo(1, 9);
  }
  const bending = Math.abs(out[3]) / 0.01;
  expect(Math.abs(out[6])).toBeLessThan(1e-9 * bending);
  expect(Math.abs(out[7])).toBeLessThan(1e-9 * bending);
});

it("a turn of a stressed facet by e costs area x (N_aa e.e - e.N.e), whatever the axis", () => {
  const forces = Float64Array.of(300, -120, 80);
  const s = triangleScratch();
  const out = new Float64Array(324);
  for (const p of [skew, lifted]) {
    const area = triangleStrains(p, wood, s);
    triangleGeometric(forces, 0, area, s, emptyTriangleGeometric(), out);
    for (const e of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
      [0.3, -0.8, 0.5],
    ]) {
      const own = [0, 1, 2].map((k) => e.reduce((sum, v, q) => sum + s.frame[3 * k + q] * v, 0));
      const along = 300 * own[0] ** 2 - 120 * own[1] ** 2 + 160 * own[0] * own[1];
      const exact = area * (180 * e.reduce((sum, v) => sum + v * v, 0) - along);
      expect(form(out, turned(p, e)) / exact).toBeCloseTo(1, 10);
    }
  }
});

it("a deflection of the second degree costs int N_ab w,a w,b exactly", () => {
  const s = triangleScratch();
  const area = triangleStrains(skew, wood, s);
  const out = new Float64Array(324);
  triangleGeometric(Float64Array.of(1, 0, 0), 0, area, s, emptyTriangleGeometric(), out);
  // w = x y, measured from (0.01, 0.02): int (w,x)2 = int y2 = A/12 (sum y_i2 + (sum y_i)2)
  const u = new Float64Array(18);
  const ys = [0, 0.003, 0.011];
  for (let c = 0; c < 3; c++) {
    const x = skew[3 * c] - 0.01;
    u[6 * c + 2] = x * ys[c];
    u[6 * c + 3] = x;
    u[6 * c + 4] = -ys[c];
  }
  const sum = ys.reduce((a, b) => a + b, 0);
  const exact = (area / 12) * (ys.reduce((a, y) => a + y * y, 0) + sum * sum);
  expect(form(out, u) / exact).toBeCloseTo(1, 10);
});

it("a turn of a stressed rib square to it costs force x length, along it nothing", () => {
  const length = 0.02;
  const out = new Float64Array(196);
  const normal = [0, 0, 1];
  const tangent = [0.8, 0.6, 0];
  edgeBeamGeometric(length, tangent, normal, [-0.001, -0.001], [-0.006, -0.006], 0.4, -50, out);
  const height = -0.006;
  // turn about the middle of the rib's own axis, so that its centroid turns on the spot
  const move = (e: readonly number[]): number[] => {
    const ends = [0, length].flatMap((d) => {
      const r = [d * tangent[0], d * tangent[1], -height];
      return [e[1] * r[2] - e[2] * r[1], e[2] * r[0] - e[0] * r[2], e[0] * r[1] - e[1] * r[0], ...e];
    });
    return [...ends, 0, 0];
  };
  const across = [-0.6, 0.8, 0];
  expect(form(out, move(across)) / (-50 * length)).toBeCloseTo(1, 10);
  expect(form(out, move(normal)) / (-50 * length)).toBeCloseTo(1, 10);
  expect(Math.abs(form(out, move(tangent)))).toBeLessThan(1e-12);
});
