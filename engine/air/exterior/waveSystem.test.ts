import { describe, expect, it } from "vitest";
import { opened, typescriptKernels } from "#engine/numerics";
import { panelGeometry } from "./panelGeometry.ts";
import { sphere } from "./sphere.fixture.ts";
import { solveWaves, type WaveSystem, waveSystem, waveSystemRoom } from "./waveSystem.ts";

function systemOf(m: number, f: (cos: number) => number): WaveSystem {
  const g = panelGeometry(sphere(m));
  const pattern = Float64Array.from({ length: g.panels }, (_, t) => {
    const [x, y, z] = g.centre.subarray(3 * t, 3 * t + 3);
    return f(z / Math.hypot(x, y, z));
  });
  return waveSystem(g, pattern, 1, typescriptKernels(waveSystemRoom(g.panels, g.nodes, 1)));
}

/** Largest error of the pressure over the nodes against (re + i im) f(cos), over that value's modulus. */
function worst(s: WaveSystem, f: (cos: number) => number, re: number, im: number): number {
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

describe("solveWaves", () => {
  it("leaves an even pressure as it is, (1/2 - K) 1 = 1, to half a per cent on 128 panels", () => {
    const s = systemOf(4, () => 1);
    const { nodes, panels, corner, area } = s.geometry;
    const given = new Float64Array(nodes);
    for (let i = 0; i < 3 * panels; i++) given[corner[i]] += area[Math.floor(i / 3)] / 3;
    opened(solveWaves(s, 0, 0, given));
    expect(worst(s, () => 1, 1, 0)).toBeLessThan(5e-3);
  });

  it("gives an even flow out of a sphere its pressure", () => {
    const s = systemOf(6, () => 1);
    opened(solveWaves(s, 0, 0));
    expect(worst(s, () => 1, 1, 0)).toBeLessThan(0.03);
  });

  it("fails near an inner resonance with the plain equation and holds there with the combination", () => {
    const s = systemOf(6, (cos) => cos);
    const around = Array.from({ length: 13 }, (_, i) => 4.493409 * (1 + 0.0025 * i));
    const wrong = (eta: number) =>
      around.map((k) => {
        opened(solveWaves(s, k, eta / k));
        return worst(s, (cos) => cos, ...toAndFro(k));
      });
    expect(Math.max(...wrong(0))).toBeGreaterThan(0.25);
    expect(Math.max(...wrong(1))).toBeLessThan(0.08);
  });

  it("gives the same by either equation below the first inner resonance", () => {
    const s = systemOf(6, (cos) => cos);
    for (const k of [0.5, 2]) {
      for (const eta of [0, 1 / k]) {
        opened(solveWaves(s, k, eta));
        expect(worst(s, (cos) => cos, ...toAndFro(k))).toBeLessThan(0.04);
      }
    }
  });

  it("takes sources given by their potential as it takes patterns", () => {
    const s = systemOf(3, () => 1);
    opened(solveWaves(s, 0, 0));
    const own = s.pressure.slice();
    const { nodes, panels } = s.geometry;
    const given = Float64Array.from({ length: nodes }, (_, n) => {
      let sum = 0;
      for (let t = 0; t < panels; t++) sum += s.sources[n * panels + t];
      return sum;
    });
    opened(solveWaves(s, 0, 0, given));
    expect(Math.max(...own.map((v, i) => Math.abs(v - s.pressure[i])))).toBeLessThan(1e-12);
  });
});
