import { type Context, done, failed, type Outcome, typescriptKernels } from "#engine/numerics";
import type {
  ExteriorOperators,
  ExteriorOptions,
  ExteriorSurface,
  FrequencyOperators,
  WholeEquations,
} from "./exterior.ts";
import { listenerRows } from "./listenerRows.ts";
import { regularWaves, solidHarmonics, waveDegree } from "./regularWaves.ts";
import { standingEquations, standingRoom, standingSystem } from "./standingEquations.ts";
import { type SurfaceMeasures, surfaceMeasures } from "./surfaceMeasures.ts";
import { type SurfaceParts, surfaceParts } from "./surfaceParts.ts";
import { surfaceWaves } from "./surfaceWaves.ts";
import { factorWaves, waveSystem, waveSystemRoom } from "./waveSystem.ts";

/**
 * All of the outer air that does not depend on what moves: the boundary integral equations of a closed surface, factored at
 * each of the frequencies asked. Linear pressure on flat triangles, Galerkin's way, plain equation below the body's first
 * inner resonance and Burton and Miller's combination above (`combinedShare`).
 * Some 30 MB for 632 panels at 10 frequencies to 1 kHz. Fails: 'cancelled', 'frequencies', 'singular'.
 */
export function exteriorOperators(
  surface: ExteriorSurface,
  options: ExteriorOptions,
  ctx: Context,
): Outcome<ExteriorOperators> {
  const { frequencies, listeners, soundSpeed } = options;
  if (!frequencies.every((f, i) => f > (i > 0 ? frequencies[i - 1] : 0)) || frequencies.length === 0)
    return failed("frequencies", "the outer air is solved at ascending frequencies above 0 Hz");
  const parts = surfaceParts(surface);
  const { geometry: g, edges } = parts;
  const measures = surfaceMeasures(g);
  const { centre, radius } = measures;
  const numbers = frequencies.map((f) => (2 * Math.PI * f) / soundSpeed);
  const degree = waveDegree(numbers[numbers.length - 1], radius);
  const solid = solidHarmonics(edges, centre, radius, degree);
  const room = standingRoom(g.panels, g.nodes, solid.count);
  const standing =
    combinedShare(numbers[0], measures) === 0
      ? standingSystem(parts, (ctx.kernels ?? typescriptKernels)(room))
      : null;
  const at: FrequencyOperators[] = [];
  for (const k of numbers) {
    if (ctx.cancelled()) return failed("cancelled", "the outer air was no longer wanted");
    const combination = combinedShare(k, measures);
    const waves = surfaceWaves(g, edges, regularWaves(solid, k));
    const plain = combination === 0 && standing !== null ? standingEquations(standing, k, waves) : null;
    const equations = plain === null ? wholeEquations(parts, k, combination / k, ctx) : done(plain);
    if (!equations.ok) return equations;
    const { sentByMotion, sentByPressure } = waves;
    at.push({
      combination,
      equations: equations.value,
      sentByMotion,
      sentByPressure,
      ...listenerRows(g, edges, k, listeners),
    });
    ctx.progress(at.length / frequencies.length);
  }
  return done({ surface, options, at });
}

function wholeEquations(
  parts: SurfaceParts,
  k: number,
  eta: number,
  { kernels }: Context,
): Outcome<WholeEquations> {
  const { panels, nodes } = parts.geometry;
  const system = waveSystem(parts, (kernels ?? typescriptKernels)(waveSystemRoom(panels, nodes)));
  const factored = factorWaves(system, k, eta);
  if (!factored.ok) return factored;
  const { matrix, pivot, sources } = system;
  return done({
    kind: "whole",
    factors: matrix.slice(),
    pivot: pivot.slice(),
    sources: sources.slice(),
  });
}

/**
 * Share of the derivative equation: 0 up to 3kV/A = 2.4, 1 from 2.95, V and A the body's volume and area. The first inner
 * resonance with zero pressure lies at 3kV/A = 3.14 for a sphere and at 4.7 for a thin box, so the plain equation, the more
 * exact of the two at low frequencies, is safe below; a guitar of 0.11 m depth stays below up to 1.15 kHz. A change from
 * one to the other shows as a step of the size of the error.
 */
function combinedShare(k: number, { volume, area }: SurfaceMeasures): number {
  const t = Math.min(1, Math.max(0, ((3 * k * volume) / area - 2.4) / 0.55));
  return t * t * (3 - 2 * t);
}
