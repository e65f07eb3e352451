import { describe, expect, it } from "vitest";
import { invariant, opened, typescriptKernels } from "#engine/numerics";
import type { ExteriorSurface } from "./exterior.ts";
import { regularWaves, solidHarmonics, waveDegree } from "./regularWaves.ts";
import { sound, soundingRoom, soundingSurface } from "./soundingSurface.ts";
import { sphere } from "./sphere.fixture.ts";
import { standingEquations, standingRoom, standingSystem } from "./standingEquations.ts";
import { surfaceParts } from "./surfaceParts.ts";
import { surfaceWaves } from "./surfaceWaves.ts";
import { factorWaves, waveSystem, waveSystemRoom } from "./waveSystem.ts";

const { nodes, ...rest } = sphere(2);
const flat = { ...rest, nodes: nodes.map((v, i) => v * [1, 0.8, 0.3][i % 3]) };
const top = 6;

/** Pressures on a body of two motions by the equations in real numbers and by the whole ones, and their largest difference. */
function compared(surface: ExteriorSurface, k: number) {
  const parts = surfaceParts(surface);
  const { geometry: g, edges } = parts;
  const solid = solidHarmonics(edges, [0, 0, 0], 1, waveDegree(top, 1));
  const waves = surfaceWaves(g, edges, regularWaves(solid, k));
  const room = standingRoom(g.panels, g.nodes, solid.count);
  const plain = standingEquations(standingSystem(parts, typescriptKernels(room)), k, waves);
  invariant(plain !== null, () => `singular at k = ${k}`);
  const system = waveSystem(parts, typescriptKernels(waveSystemRoom(g.panels, g.nodes)));
  opened(factorWaves(system, k, 0));
  const whole = {
    kind: "whole",
    factors: system.matrix,
    pivot: system.pivot,
    sources: system.sources,
  } as const;
  const patterns = Float64Array.from({ length: 2 * g.panels }, (_, i) => Math.cos(0.7 * i * i));
  const [a, b] = [plain, whole].map((equations) => {
    const nothing = new Float64Array(0);
    const at = {
      combination: 0,
      equations,
      sentByMotion: waves.sentByMotion,
      sentByPressure: waves.sentByPressure,
      heardOfMotion: nothing,
      heardOfPressure: nothing,
    };
    const kernels = typescriptKernels(soundingRoom(g, [at], 2, 0));
    const s = soundingSurface(g, [at], patterns, 2, 0, kernels);
    sound(s, at);
    const { pressure, power } = s;
    const sizeOf = (v: Float64Array) => v.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
    return { pressure, power, pressureSize: sizeOf(pressure), powerSize: sizeOf(power) };
  });
  const gap = (x: Float64Array, y: Float64Array) => x.reduce((m, v, i) => Math.max(m, Math.abs(v - y[i])), 0);
  return Math.max(gap(a.pressure, b.pressure) / b.pressureSize, gap(a.power, b.power) / b.powerSize);
}

describe("standingEquations", () => {
  it("answer as the complex equations do, at low and high frequencies", () => {
    for (const k of [0.05, 0.4, 1, 2.1, 3.3, 4.7, top]) expect(compared(flat, k)).toBeLessThan(1e-6);
  });

  it("do so on a sphere about ka = 2.798, where their real part has a resonance of its own (y0' = 0)", () => {
    const ball = sphere(2);
    for (let i = -10; i <= 10; i++) expect(compared(ball, 2.9 + 0.01 * i)).toBeLessThan(1e-6);
  });
});
