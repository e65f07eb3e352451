import { describe, expect, it } from "vitest";
import { opened, placeOf, typescriptKernels } from "#engine/numerics";
import { sphere } from "./sphere.fixture.ts";
import { surfaceParts } from "./surfaceParts.ts";
import { factorWaves, type WaveSystem, waveSystem, waveSystemRoom } from "./waveSystem.ts";

/** One pattern on a sphere and the pressure it makes there, real parts and then imaginary parts. */
interface Case extends WaveSystem {
  readonly pattern: Float64Array;
  readonly pressure: Float64Array;
}

function systemOf(m: number, f: (cos: number) => number): Case {
  const parts = surfaceParts(sphere(m));
  const g = parts.geometry;
  const pattern = Float64Array.from({ length: g.panels }, (_, t) => {
    const [x, y, z] = g.centre.subarray(3 * t, 3 * t + 3);
    return f(z / Math.hypot(x, y, z));
  });
  const kernels = typescriptKernels(waveSystemRoom(g.panels, g.nodes) + 2 * g.nodes);
  return { ...waveSystem(parts, kernels), pattern, pressure: kernels.allocate(2 * g.nodes) };
}

/** Into `pressure`: the answer to the pattern, or to sources given by their potential. */
function solve(s: Case, k: number, eta: number, given?: Float64Array): void {
  opened(factorWaves(s, k, eta));
  const { nodes, panels } = s.geometry;
  s.pressure.fill(0);
  if (given !== undefined) s.pressure.set(given);
  else
    for (let row = 0; row < 2 * nodes; row++)
      for (let t = 0; t < panels; t++) s.pressure[row] += s.sources[row * panels + t] * s.pattern[t];
  const [a, p] = [placeOf(s.matrix), placeOf(s.pressure)];
  const { kernels, pivot, scratch } = s;
  kernels.complexLu.solveComplex(
    a,
    a + nodes * nodes,
    nodes,
    placeOf(pivot),
    p,
    p + nodes,
    1,
    placeOf(scratch),
  );
}

/** Largest error of the pressure over the nodes against (re + i im) f(cos), over that value's modulus. */
function worst(s: Case, f: (cos: number) => number, re: number, im: number): number {
  const { nodes, place } = s.geometry;
  let gap = 0;
  for (let n = 0; n < nodes; n++) {
    const shape = f(place[3 * n + 2]);
    gap = Math.max(gap, Math.hypot(s.pressure[n] - re * shape, s.pressure[nodes + n] - im * shape));
  }
  return gap / Math.hypot(re, im);
}

/** (1 + ika)/(2 - k2a2 + 2ika): pressure per unit acceleration and density of a unit sphere moving to and fro. */
function toAndFro(k: number): readonly [number, number] {
  const [a, b] = [2 - k * k, 2 * k];
  const size = a * a + b * b;
  return [(a + k * b) / size, (k * a - b) / size];
}

describe("factorWaves", () => {
  it("leaves an even pressure as it is, (1/2 - K) 1 = 1, to half a per cent on 128 panels", () => {
    const s = systemOf(4, () => 1);
    const { nodes, panels, corner, area } = s.geometry;
    const given = new Float64Array(nodes);
    for (let i = 0; i < 3 * panels; i++) given[corner[i]] += area[Math.floor(i / 3)] / 3;
    solve(s, 0, 0, given);
    expect(worst(s, () => 1, 1, 0)).toBeLessThan(5e-3);
  });

  it("gives an even flow out of a sphere its pressure", () => {
    const s = systemOf(6, () => 1);
    solve(s, 0, 0);
    expect(worst(s, () => 1, 1, 0)).toBeLessThan(0.03);
  });

  it("fails near an inner resonance with the plain equation and holds there with the combination", () => {
    const s = systemOf(6, (cos) => cos);
    const around = Array.from({ length: 13 }, (_, i) => 4.493409 * (1 + 0.0025 * i));
    const wrong = (eta: number) =>
      around.map((k) => {
        solve(s, k, eta / k);
        return worst(s, (cos) => cos, ...toAndFro(k));
      });
    expect(Math.max(...wrong(0))).toBeGreaterThan(0.25);
    expect(Math.max(...wrong(1))).toBeLessThan(0.08);
  });

  it("gives the same by either equation below the first inner resonance", () => {
    const s = systemOf(6, (cos) => cos);
    for (const k of [0.5, 2]) {
      for (const eta of [0, 1 / k]) {
        solve(s, k, eta);
        expect(worst(s, (cos) => cos, ...toAndFro(k))).toBeLessThan(0.04);
      }
    }
  });

  it("takes sources given by their potential as it takes patterns", () => {
    const s = systemOf(3, () => 1);
    solve(s, 0, 0);
    const own = s.pressure.slice();
    const { nodes, panels } = s.geometry;
    const given = Float64Array.from({ length: nodes }, (_, n) => {
      let sum = 0;
      for (let t = 0; t < panels; t++) sum += s.sources[n * panels + t];
      return sum;
    });
    solve(s, 0, 0, given);
    expect(Math.max(...own.map((v, i) => Math.abs(v - s.pressure[i])))).toBeLessThan(1e-12);
  });
});
