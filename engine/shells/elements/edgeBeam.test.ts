import { expect, it } from "vitest";
import { symmetricEigen } from "#engine/numerics";
import { type BeamSection, type EdgeBeam, edgeBeam, emptyEdgeBeam } from "./edgeBeam.ts";

const rib = (xi: number): BeamSection => ({
  EA: 1e6,
  EI: 12,
  GAs: 6e4,
  GJ: 2,
  glue: -0.0015,
  centroid: -0.004 - 0.003 * xi,
  massPerLength: 0.04,
  inertiaBending: 5e-7,
  inertiaTwist: 8e-7,
  lossE: 0.01,
  lossG: 0.02,
});
const length = 0.011;
const c = Math.cos(0.4);
const s = Math.sin(0.4);

function beam(section = rib): EdgeBeam {
  const e = emptyEdgeBeam();
  edgeBeam(length, [c, s, 0], [0, 0, 1], section, e);
  return e;
}
const along = (a: Float64Array, u: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < 14; i++) for (let j = 0; j < 14; j++) sum += u[i] * a[14 * i + j] * u[j];
  return sum;
};
/** Motion of both ends under rigid motion k about the origin, end i at the origin. */
function rigid(k: number): number[] {
  return [0, length].flatMap((d): number[] => {
    const p = [d * c, d * s, 0];
    const u = [0, 0, 0, 0, 0, 0];
    u[k] = 1;
    if (k === 3) u.splice(0, 3, 0, -p[2], p[1]);
    if (k === 4) u.splice(0, 3, p[2], 0, -p[0]);
    if (k === 5) u.splice(0, 3, -p[1], p[0], 0);
    return u;
  });
}

it("six rigid motions store no energy, also where the rib grows and the axis inclines", () => {
  const e = beam();
  for (let k = 0; k < 6; k++) {
    const u = [...rigid(k), 0, 0];
    const ones = u.map(() => 1);
    expect(Math.abs(along(e.stiffness, u)) / along(e.stiffness, ones)).toBeLessThan(1e-12);
  }
});

it("has as many ways to strain as it should: axial, two of bending with shear, twist", () => {
  const { values } = symmetricEigen(beam().stiffness, 14);
  expect(values.filter((v) => v > 1e-10 * values[13]).length).toBe(4);
});

it("weighs mass per length x length in every direction and never loads the turn about the plate's normal", () => {
  const e = beam();
  for (let k = 0; k < 3; k++) expect(along(e.mass, [...rigid(k), 0, 0]) / (0.04 * length)).toBeCloseTo(1, 12);
  for (const i of [5, 11]) for (let j = 0; j < 14; j++) expect(e.stiffness[14 * i + j]).toBe(0);
});

it("bends as the composite section does: EI + EA offset2 under constant curvature of the plate", () => {
  const even = (): BeamSection => rib(0);
  const e = beam(even);
  // w = -k x2 / 2, turn about b = k x, along the beam; b = (-s, c, 0)
  const k = 0.3;
  const u = [0, length].flatMap((d) => [0, 0, (-k * d * d) / 2, -s * k * d, c * k * d, 0]).concat(0, 0);
  const offset = -0.0055;
  expect(along(e.stiffness, u) / ((12 + 1e6 * offset ** 2) * k * k * length)).toBeCloseTo(1, 10);
  expect(along(e.loss, u) / (0.01 * along(e.stiffness, u))).toBeCloseTo(1, 10);
});
