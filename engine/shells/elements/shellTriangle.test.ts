import { describe, expect, it } from "vitest";
import { symmetricEigen } from "#engine/numerics";
import { blended, type Laminate, laminate } from "../laminate.ts";
import type { PlyMaterial } from "../panel.ts";
import { spruce } from "../spruce.fixture.ts";
import { emptyTriangle, type ShellTriangle, shellTriangle } from "./shellTriangle.ts";

const rosewood: PlyMaterial = {
  ...spruce,
  density: 850,
  EL: 14e9,
  ER: 2e9,
  GLR: 1.3e9,
  GLT: 1e9,
  GRT: 0.4e9,
};
const metal: PlyMaterial = {
  density: 2700,
  EL: 70e9,
  ER: 70e9,
  nuLR: 0.3,
  GLR: 70e9 / 2.6,
  GLT: 70e9 / 2.6,
  GRT: 70e9 / 2.6,
  loss: spruce.loss,
};

const plain = laminate([{ material: spruce, angle: 0.4, bottom: -0.0015, top: 0.0015 }]);
const bridged = laminate([
  { material: spruce, angle: 0.4, bottom: -0.0014, top: 0.0014 },
  { material: rosewood, angle: 2.0, bottom: 0.0014, top: 0.0094 },
]);
const laminates: readonly (readonly [string, Laminate])[] = [
  ["metal", laminate([{ material: metal, angle: 0, bottom: -0.0015, top: 0.0015 }])],
  ["spruce", plain],
  ["spruce under a bridge", bridged],
  [
    "half bridged",
    blended([
      { laminate: plain, fraction: 0.5 },
      { laminate: bridged, fraction: 0.5 },
    ]),
  ],
];
const skew = Float64Array.of(0.01, 0.02, 0, 0.019, 0.023, 0, 0.013, 0.031, 0);
const lifted = Float64Array.of(0.01, 0.02, 0.001, 0.019, 0.023, -0.002, 0.013, 0.031, 0.003);

function element(p: Float64Array, l: Laminate): ShellTriangle {
  const e = emptyTriangle();
  shellTriangle(p, l, e);
  return e;
}
/** Six rigid motions of the element about the origin, 18 numbers each. */
function rigid(p: Float64Array): Float64Array[] {
  return [0, 1, 2, 3, 4, 5].map((k) => {
    const u = new Float64Array(18);
    for (let i = 0; i < 3; i++) {
      const [x, y, z] = [p[3 * i], p[3 * i + 1], p[3 * i + 2]];
      if (k < 3) u[6 * i + k] = 1;
      else u[6 * i + k] = 1;
      if (k === 3) u.set([0, -z, y], 6 * i);
      if (k === 4) u.set([z, 0, -x], 6 * i);
      if (k === 5) u.set([-y, x, 0], 6 * i);
    }
    return u;
  });
}
function times(a: Float64Array, u: Float64Array): Float64Array {
  return Float64Array.from(u, (_, i) => u.reduce((s, v, j) => s + a[18 * i + j] * v, 0));
}
const dot = (a: Float64Array, b: Float64Array): number => a.reduce((s, v, i) => s + v * b[i], 0);

describe.each(laminates)("shell triangle of %s", (_, l) => {
  it.each([
    ["flat", skew],
    ["lifted", lifted],
  ] as const)("%s: six rigid motions store no energy and it has rank 12", (_n, p) => {
    for (const matrix of [element(p, l).stiffness, element(p, l).loss]) {
      const { values } = symmetricEigen(matrix, 18);
      const top = values[17];
      const zero = Array.from(values).filter((v) => Math.abs(v) < 1e-11 * top);
      expect(zero.length).toBe(6);
      expect(values[0]).toBeGreaterThan(-1e-11 * top);
      for (const u of rigid(p)) {
        const f = times(matrix, u);
        expect(Math.sqrt(dot(f, f))).toBeLessThan(1e-10 * top * Math.sqrt(dot(u, u)));
      }
    }
  });

  it("its mass weighs density x thickness x area, also under rotation", () => {
    const e = element(lifted, l);
    const area = e.facet[0];
    const r = rigid(lifted);
    for (let k = 0; k < 3; k++)
      expect(dot(r[k], times(e.mass, r[k])) / (l.inertia[0] * area)).toBeCloseTo(1, 12);
    // rotation about the x axis of a flat element: int m0 y2 + m2
    const flat = element(skew, l);
    const [y0, y1, y2] = [skew[1], skew[4], skew[7]];
    const second = (flat.facet[0] / 6) * (y0 * y0 + y1 * y1 + y2 * y2 + y0 * y1 + y1 * y2 + y2 * y0);
    const about = rigid(skew)[3];
    expect(
      dot(about, times(flat.mass, about)) / (l.inertia[0] * second + l.inertia[2] * flat.facet[0]),
    ).toBeCloseTo(1, 10);
  });

  it("constant membrane strain, curvature and twist give the laminate's energy exactly", () => {
    // u = ex x + g y/2 ..., w = -(kx x2 + ky y2 + kxy x y)/2, beta = -grad w
    const strain = [1e-3, -0.7e-3, 0.4e-3, 0.9, -0.5, 0.6];
    const e = element(skew, l);
    const u = new Float64Array(18);
    for (let i = 0; i < 3; i++) {
      const x = skew[3 * i];
      const y = skew[3 * i + 1];
      u[6 * i] = strain[0] * x + (strain[2] * y) / 2;
      u[6 * i + 1] = strain[1] * y + (strain[2] * x) / 2;
      u[6 * i + 2] = -(strain[3] * x * x + strain[4] * y * y + strain[5] * x * y) / 2;
      const betaX = strain[3] * x + (strain[5] * y) / 2;
      const betaY = strain[4] * y + (strain[5] * x) / 2;
      u[6 * i + 3] = -betaY;
      u[6 * i + 4] = betaX;
    }
    for (const [matrix, c] of [
      [e.stiffness, l.stiffness],
      [e.loss, l.loss],
    ] as const) {
      let exact = 0;
      for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) exact += strain[i] * c[8 * i + j] * strain[j];
      expect(dot(u, times(matrix, u)) / (exact * e.facet[0])).toBeCloseTo(1, 10);
    }
  });

  it("sweeps area x deflection, and the exact volume under a quadratic", () => {
    const e = element(skew, l);
    const u = new Float64Array(18);
    for (let i = 0; i < 3; i++) {
      const x = skew[3 * i] - 0.01;
      const y = skew[3 * i + 1] - 0.02;
      u[6 * i + 2] = 1 + x * y;
      u[6 * i + 3] = x; // rx = dw/dy
      u[6 * i + 4] = -y; // ry = -dw/dx
    }
    const x = [0, 0.009, 0.003];
    const y = [0, 0.003, 0.011];
    let product = 0;
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) product += x[i] * y[j] * (i === j ? 2 : 1);
    expect(dot(e.flow, u) / (e.facet[0] * (1 + product / 12))).toBeCloseTo(1, 12);
  });
});

it("in-plane bending of a strip of right triangles is exact at any aspect ratio (OPT)", () => {
  // pure moment on a strip of length 10, depth 1, one cell: rotation of the end by beam theory M L / (E I) within 1e-9
  for (const length of [0.5, 1, 4]) {
    const nodes = [
      [0, 0],
      [length, 0],
      [length, 1],
      [0, 1],
    ];
    const iso: PlyMaterial = { ...metal, EL: 1, ER: 1, nuLR: 0, GLR: 0.5, GLT: 0.5, GRT: 0.5 };
    const l = laminate([{ material: iso, angle: 0, bottom: -0.5, top: 0.5 }]);
    // energy of the beam field u = -x y' k, v = k x2/2, theta = k x with y' = y - 1/2, both diagonals
    const k = 1;
    const energy = (
      [
        [0, 1, 2],
        [0, 2, 3],
      ] as const
    ).reduce((sum, t) => {
      const p = Float64Array.from(t.flatMap((i) => [nodes[i][0], nodes[i][1], 0]));
      const e = element(p, l);
      const u = new Float64Array(18);
      t.forEach((i, c) => {
        const [x, y] = nodes[i];
        u[6 * c] = -k * x * (y - 0.5);
        u[6 * c + 1] = (k * x * x) / 2;
        u[6 * c + 5] = k * x;
      });
      return sum + dot(u, times(e.stiffness, u));
    }, 0);
    expect(energy / (length / 12)).toBeCloseTo(1, 10);
  }
});
