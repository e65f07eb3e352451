import { describe, expect, it } from "vitest";
import { type Context, factorize, opened, quiet, solveFactored } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { guitarBody } from "./body.fixture.ts";
import { bodyMesh } from "./bodyMesh.ts";
import type { BodyModes, BodySystem } from "./bodyModel.ts";
import { bodyModes } from "./bodyModes.ts";
import type { BodyShellSpec, PointRef } from "./bodySpec.ts";
import { bodySystem } from "./bodySystem.ts";
import { pointRows } from "./pointRows.ts";

const fast: Context = { ...quiet, kernels: wasmKernels };
const size = { top: 0.02, back: 0.02, side: 0.02 };
const made = (spec: BodyShellSpec): BodySystem => opened(bodySystem(spec, opened(bodyMesh(spec, size))));
const points: readonly PointRef[] = [
  { part: "top", x: 0.185, y: 0.03, height: 0.01 },
  { part: "back", x: 0.26, y: -0.02, height: 0 },
  { part: "neck", at: [0.86, 0.01, 0.01] },
];
const P = 6 * points.length;
const spec = guitarBody();
/** Flexibility of the elastic modes k0 <= k < k1 alone. */
function modal(m: BodyModes, k0: number, k1: number): Float64Array {
  const out = new Float64Array(P * P);
  for (let k = k0; k < k1; k++) {
    const at = P * (m.rigidCount + k);
    for (let i = 0; i < P; i++)
      for (let j = 0; j < P; j++) out[P * i + j] += (m.points[at + i] * m.points[at + j]) / m.omega[k] ** 2;
  }
  return out;
}

describe("what the body's modes tell of its points", () => {
  const free = made(spec);
  const low = opened(bodyModes(free, points, 250, fast));
  const high = opened(bodyModes(free, points, 500, fast));

  it("free: the residual below one cut is that below a higher one and the modes between them", () => {
    expect(high.count).toBeGreaterThan(low.count);
    const between = modal(high, low.count, high.count);
    for (let i = 0; i < P; i++) {
      for (let j = 0; j < P; j++) {
        const scale = Math.sqrt(low.pointResidual[(P + 1) * i] * low.pointResidual[(P + 1) * j]);
        const sum = high.pointResidual[P * i + j] + between[P * i + j];
        // (shift / lambda)^2 of the first mode left out
        expect(Math.abs(sum - low.pointResidual[P * i + j])).toBeLessThan(2e-3 * scale);
      }
    }
  });

  it("held: modes and residual add up to the static answer", () => {
    const held = made({ ...spec, support: "neck and tail" });
    const m = opened(bodyModes(held, points, 250, fast));
    const rows = opened(pointRows(held, points));
    const b = new Float64Array(P * held.n);
    for (let i = 0; i < P; i++)
      for (let p = rows.start[i]; p < rows.start[i + 1]; p++) b[i * held.n + rows.row[p]] = rows.weight[p];
    const x = solveFactored(opened(factorize(held.stiffness, { group: held.group })), b, P);
    const sum = modal(m, 0, m.count);
    for (let i = 0; i < P; i++) {
      let exact = 0;
      for (let p = rows.start[i]; p < rows.start[i + 1]; p++)
        exact += rows.weight[p] * x[i * held.n + rows.row[p]];
      // a motion that is held has no flexibility
      if (exact === 0) continue;
      expect(Math.abs((sum[(P + 1) * i] + m.pointResidual[(P + 1) * i]) / exact - 1)).toBeLessThan(1e-3);
    }
  });

  it("energy shares add up to one and losses are those of the woods", () => {
    for (let k = 0; k < high.count; k++) {
      const share = high.energyShare.subarray(4 * k, 4 * k + 4);
      expect(share.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
      expect(Math.min(...share)).toBeGreaterThan(-0.01);
      const loss = high.loss[(high.count + 1) * k] / high.omega[k] ** 2;
      expect(loss).toBeGreaterThan(0.004);
      expect(loss).toBeLessThan(0.025);
    }
  });

  it("rigid motions come first, orthonormal by mass, and sweep what passes the hole", () => {
    const { nodes } = high.surface;
    const count = nodes.length / 3;
    // kinetic energy of a unit rigid motion about the centre of mass: any column has phi' M phi = 1
    expect(high.rigidCount).toBe(6);
    const first = high.shapes.subarray(0, 3 * count);
    expect(Math.abs(first[0] - 1 / Math.sqrt(high.totalMass))).toBeLessThan(1e-9);
    const swept = high.volume[6] + high.volume[7] + high.volume[8];
    const hole = Math.PI * 0.05 ** 2;
    expect(Math.abs(swept * Math.sqrt(high.totalMass) + hole)).toBeLessThan(0.05 * hole);
  });
});

describe("a board that stands clear of the top", () => {
  it("adds its own weight and swings as a cantilever of its own", () => {
    const { neck } = spec;
    if (neck === null) throw new Error("the fixture has a neck");
    const station = { EA: 5e6, EIz: 20, EIy: 1500, GJ: 20, massPerLength: 0.3, centre: 0, polar: 5e-5 };
    const tongue = {
      to: [0.39, 0, -0.006] as const,
      stations: [
        { s: 0, ...station },
        { s: 1, ...station },
      ],
    };
    const with_ = made({ ...spec, neck: { ...neck, tongue } });
    const without = made(spec);
    expect(with_.totalMass - without.totalMass).toBeCloseTo(0.3 * Math.hypot(0.115, 0.002), 6);
    // clamped-free: (1.8751 / L)^2 sqrt(EI / m) = 2.1 kHz / (2 pi): no mode below it is added
    const f = (1.8751 / 0.115) ** 2 * Math.sqrt(20 / 0.3);
    expect(f / (2 * Math.PI)).toBeGreaterThan(250);
    const a = opened(bodyModes(with_, [], 250, fast));
    const b = opened(bodyModes(without, [], 250, fast));
    expect(a.count).toBe(b.count);
  });
});
