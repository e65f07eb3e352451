import { type Context, done, failed, type Outcome, typescriptKernels, type Warning } from "#engine/numerics";
import type { ExteriorField, ExteriorOperators } from "./exterior.ts";
import { panelGeometry } from "./panelGeometry.ts";
import { type Sounding, sound, soundingRoom, soundingSurface } from "./soundingSurface.ts";
import { surfaceMeasures } from "./surfaceMeasures.ts";

/**
 * The outer air's answer to patterns of normal velocity (P x panels, out of the body): radiation matrix and pressures at
 * listeners, at each frequency of the operators.
 *
 * Mass from the pressure on the surface, made symmetric; resistance from the power sent to infinity, which cannot be
 * negative: r_ij = density/c Re sum of conj(c_i) c_j over the waves sent away.
 * Holds while panels are shorter than a sixth of a wavelength or so (a warning says where not).
 * Fails: 'cancelled', 'patterns'.
 */
export function exteriorAnswer(
  operators: ExteriorOperators,
  patterns: Float64Array,
  ctx: Context,
): Outcome<ExteriorField> {
  const { surface, at } = operators;
  const { frequencies, listeners, soundSpeed, density } = operators.options;
  const g = panelGeometry(surface);
  const count = patterns.length / g.panels;
  if (!Number.isInteger(count) || count === 0)
    return failed("patterns", `${patterns.length} values do not make patterns over ${g.panels} panels`);
  const { centre } = surfaceMeasures(g);
  const size = frequencies.length;
  const places = listeners.length / 3;
  const field: ExteriorField = {
    count,
    frequencies: frequencies.slice(),
    soundSpeed,
    resistance: new Float64Array(size * count * count),
    mass: new Float64Array(size * count * count),
    listeners: listeners.slice(),
    pressureRe: new Float64Array(size * places * count),
    pressureIm: new Float64Array(size * places * count),
    travel: Float64Array.from({ length: places }, (_, l) =>
      Math.hypot(
        listeners[3 * l] - centre[0],
        listeners[3 * l + 1] - centre[1],
        listeners[3 * l + 2] - centre[2],
      ),
    ),
    checks: {
      asymmetry: new Float64Array(size),
      powerMismatch: new Float64Array(size),
      combination: Float64Array.from(at, ({ combination }) => combination),
    },
  };
  const kernels = (ctx.kernels ?? typescriptKernels)(soundingRoom(g, at, count, places));
  const s = soundingSurface(g, at, patterns, count, places, kernels);
  for (let f = 0; f < size; f++) {
    if (ctx.cancelled()) return failed("cancelled", "the outer air was no longer wanted");
    sound(s, at[f]);
    work(field, s, f, density);
    radiate(field, s, f, density);
    listen(field, s, f, density);
    ctx.progress((f + 1) / size);
  }
  return done(field, coarseWarnings(g.size, (2 * Math.PI * frequencies[size - 1]) / soundSpeed));
}

/** Panels a wavelength at which the solution is still good to a per cent or two on a body's own motions. */
const panelsPerWave = 6;

function coarseWarnings(sizes: Float64Array, k: number): Warning[] {
  const longest = sizes.reduce((a, b) => Math.max(a, b), 0);
  const wave = (2 * Math.PI) / k;
  if (panelsPerWave * longest <= wave) return [];
  return [
    {
      code: "coarse-panels",
      detail: `the outside is told by panels of up to ${longest.toPrecision(2)} m, the shortest wave is ${wave.toPrecision(2)} m: what radiates weakly near the upper end is coarse`,
    },
  ];
}

/** Work of the surface's pressure on the patterns: mass, and the resistance for comparison. */
function work(field: ExteriorField, { works }: Sounding, f: number, density: number): void {
  const { count } = field;
  const omega = 2 * Math.PI * field.frequencies[f];
  const square = count * count;
  const mass = field.mass.subarray(f * square, (f + 1) * square);
  const resistance = field.resistance.subarray(f * square, (f + 1) * square);
  let largest = 0;
  let skew = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      const e = i * count + j;
      const back = j * count + i;
      const re = 0.5 * density * (works[e] + works[back]);
      const im = (-0.5 * density * (works[square + e] + works[square + back])) / omega;
      mass[e] = re;
      mass[back] = re;
      resistance[e] = im;
      resistance[back] = im;
      const dRe = works[e] - works[back];
      const dIm = works[square + e] - works[square + back];
      largest = Math.max(
        largest,
        works[e] ** 2 + works[square + e] ** 2,
        works[back] ** 2 + works[square + back] ** 2,
      );
      skew = Math.max(skew, dRe * dRe + dIm * dIm);
    }
  }
  field.checks.asymmetry[f] = Math.sqrt(skew / largest);
}

/** Resistance from the waves sent away, in place of the surface's, and how far the two differ. */
function radiate(field: ExteriorField, { power }: Sounding, f: number, density: number): void {
  const { count, soundSpeed } = field;
  const resistance = field.resistance.subarray(f * count * count, (f + 1) * count * count);
  let largest = 0;
  let gap = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      const r = (power[i * count + j] * density) / soundSpeed;
      largest = Math.max(largest, Math.abs(r));
      gap = Math.max(gap, Math.abs(r - resistance[i * count + j]));
      resistance[i * count + j] = r;
      resistance[j * count + i] = r;
    }
  }
  field.checks.powerMismatch[f] = gap / largest;
}

/** Pressure at the listeners, freed of its travel time. */
function listen(field: ExteriorField, { heard }: Sounding, f: number, density: number): void {
  const { count, travel, soundSpeed } = field;
  const size = travel.length * count;
  const k = (2 * Math.PI * field.frequencies[f]) / soundSpeed;
  for (let l = 0; l < travel.length; l++) {
    const c = density * Math.cos(k * travel[l]);
    const s = density * Math.sin(k * travel[l]);
    for (let i = l * count; i < (l + 1) * count; i++) {
      field.pressureRe[f * size + i] = c * heard[i] - s * heard[size + i];
      field.pressureIm[f * size + i] = c * heard[size + i] + s * heard[i];
    }
  }
}
