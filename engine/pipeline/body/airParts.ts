import {
  apertureFlows,
  type CavityModes,
  cavityResidual,
  type ExteriorField,
  type ExteriorSurface,
  panelFlows,
  stoppedFlow,
  wallFlow,
  withOuterEnd,
} from "#engine/air";
import { type Context, done, type Outcome } from "#engine/numerics";
import type { CavityAir, OuterAir } from "#engine/response";
import type { BodyModes } from "#engine/shells";

/** The air inside as the structure's motions meet it. Fails as the flow and the residual do. */
export function cavityAir(
  cavity: CavityModes,
  body: Pick<BodyModes, "surface" | "shapes">,
  ctx: Context,
): Outcome<CavityAir> {
  const flow = wallFlow(cavity, body.surface, body.shapes);
  if (!flow.ok) return flow;
  const residual = cavityResidual(cavity, flow.value, ctx);
  if (!residual.ok) return residual;
  const { count, omega, volume, heat, friction, leak, air } = cavity;
  return done({
    count,
    omega,
    volume,
    heat,
    friction,
    leak,
    air,
    wall: flow.value.coupling,
    residual: residual.value,
    slope: slopes(cavity),
    aperture: cavityOpening(cavity),
  });
}

/** The opening as it is coupled: all of the cavity that changes with the opening's outer end. */
export function cavityOpening({ aperture }: CavityModes): CavityAir["aperture"] {
  return (
    aperture && {
      count: aperture.count,
      coupling: aperture.coupling,
      inertance: aperture.inertance,
      range: aperture.range,
      viscous: aperture.viscous,
    }
  );
}

/** count x 2: squared correlation of each mode's pressure on the wall with the place along and across the body. */
function slopes({ count, pressure, wall }: CavityModes): Float64Array {
  const nodes = wall.fieldNode.length;
  const weight = new Float64Array(nodes);
  const p = wall.nodes;
  for (let t = 0; t < wall.triangles.length; t += 3) {
    const corners = wall.triangles.subarray(t, t + 3);
    const [a, b, c] = [3 * corners[0]!, 3 * corners[1]!, 3 * corners[2]!];
    const u = [p[b]! - p[a]!, p[b + 1]! - p[a + 1]!, p[b + 2]! - p[a + 2]!] as const;
    const v = [p[c]! - p[a]!, p[c + 1]! - p[a + 1]!, p[c + 2]! - p[a + 2]!] as const;
    const area =
      Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
    for (const node of corners) weight[node]! += area / 3;
  }
  const whole = weight.reduce((sum, w) => sum + w, 0);
  const centred = (value: (node: number) => number): Float64Array => {
    let mean = 0;
    for (let k = 0; k < nodes; k++) mean += (weight[k]! * value(k)) / whole;
    return Float64Array.from({ length: nodes }, (_, k) => value(k) - mean);
  };
  const dot = (a: Float64Array, b: Float64Array): number =>
    a.reduce((sum, v, k) => sum + weight[k]! * v * b[k]!, 0);
  const places = [0, 1].map((axis) => centred((k) => p[3 * k + axis]!));
  const out = new Float64Array(2 * count);
  for (let n = 1; n < count; n++) {
    const psi = centred((k) => pressure[n * nodes + k]!);
    places.forEach((place, axis) => {
      out[2 * n + axis] = dot(psi, place) ** 2 / (dot(psi, psi) * dot(place, place));
    });
  }
  return out;
}

/**
 * Normal velocity of the outer panels under each motion of the structure, under each pattern of the opening, and under what the real
 * body stops of each pattern (see `withOuterEnd`).
 */
export function outerPatterns(
  surface: ExteriorSurface,
  body: Pick<BodyModes, "surface" | "shapes">,
  { aperture }: CavityModes,
): Float64Array {
  const parts = [panelFlows(surface, body.surface, body.shapes)];
  if (aperture !== null) {
    parts.push(apertureFlows(surface, aperture.centroids, aperture.flow), stoppedFlow(aperture, surface));
  }
  const out = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

/** The outer air without the opening's patterns, and the cavity with its opening's outer end on the real body. */
export function outerAir(
  field: ExteriorField,
  cavity: CavityModes,
): { readonly outside: OuterAir; readonly cavity: CavityModes } {
  const { count: all, frequencies, soundSpeed, resistance, mass, pressureRe, pressureIm, travel } = field;
  const whole = { count: all, frequencies, soundSpeed, resistance, mass, pressureRe, pressureIm, travel };
  const a = cavity.aperture?.count ?? 0;
  if (a === 0) return { outside: whole, cavity };
  const kept = all - a;
  const outer = new Float64Array(a * a);
  // the lowest frequency: the mass is even in frequency, and hardly moves from there down
  for (let i = 0; i < a; i++)
    for (let j = 0; j < a; j++) outer[i * a + j] = mass[(kept + i) * all + kept - a + j]!;
  return { outside: leading(whole, kept), cavity: withOuterEnd(cavity, outer) };
}

/** The first `count` patterns alone. */
function leading(air: OuterAir, count: number): OuterAir {
  const { count: all } = air;
  const cut = (table: Float64Array, square: boolean): Float64Array => {
    const rows = table.length / all;
    const kept: Float64Array[] = [];
    for (let row = 0; row < rows; row++) {
      if (square && row % all >= count) continue;
      kept.push(table.subarray(row * all, row * all + count));
    }
    const out = new Float64Array(kept.length * count);
    kept.forEach((line, i) => {
      out.set(line, i * count);
    });
    return out;
  };
  return {
    ...air,
    count,
    resistance: cut(air.resistance, true),
    mass: cut(air.mass, true),
    pressureRe: cut(air.pressureRe, false),
    pressureIm: cut(air.pressureIm, false),
  };
}
