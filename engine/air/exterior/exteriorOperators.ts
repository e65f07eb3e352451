import { type Context, done, failed, type Outcome, typescriptKernels } from "#engine/numerics";
import type { ExteriorOperators, ExteriorOptions, ExteriorSurface, FrequencyOperators } from "./exterior.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { type SurfaceMeasures, surfaceMeasures } from "./surfaceMeasures.ts";
import { factorWaves, waveSystem, waveSystemRoom } from "./waveSystem.ts";

/**
 * All of the outer air that does not depend on what moves: the boundary integral equations of a closed surface, factored at
 * each of the frequencies asked. Linear pressure on flat triangles, Galerkin's way, plain equation below the body's first
 * inner resonance and Burton and Miller's combination above (`combinedShare`).
 * Fails: 'cancelled', 'frequencies', 'singular'.
 */
export function exteriorOperators(
  surface: ExteriorSurface,
  options: ExteriorOptions,
  ctx: Context,
): Outcome<ExteriorOperators> {
  const { frequencies, soundSpeed } = options;
  if (!frequencies.every((f, i) => f > (i > 0 ? frequencies[i - 1] : 0)) || frequencies.length === 0)
    return failed("frequencies", "the outer air is solved at ascending frequencies above 0 Hz");
  const g = panelGeometry(surface);
  const measures = surfaceMeasures(g);
  const system = waveSystem(g, (ctx.kernels ?? typescriptKernels)(waveSystemRoom(g.panels, g.nodes)));
  const at: FrequencyOperators[] = [];
  for (const frequency of frequencies) {
    if (ctx.cancelled()) return failed("cancelled", "the outer air was no longer wanted");
    const k = (2 * Math.PI * frequency) / soundSpeed;
    const combination = combinedShare(k, measures);
    const factored = factorWaves(system, k, combination / k);
    if (!factored.ok) return factored;
    at.push({
      combination,
      factors: system.matrix.slice(),
      pivot: system.pivot.slice(),
      sources: system.sources.slice(),
    });
    ctx.progress(at.length / frequencies.length);
  }
  return done({ surface, options, at });
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
