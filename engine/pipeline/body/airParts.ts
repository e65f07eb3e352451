import {
  apertureFlows,
  type CavityModes,
  cavityResidual,
  type ExteriorField,
  type ExteriorSurface,
  panelFlows,
  wallFlow,
} from "#engine/air";
import { type Context, done, invariant, type Outcome } from "#engine/numerics";
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
  const { count, omega, volume, heat, friction, leak, air, aperture } = cavity;
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
    aperture: aperture && {
      count: aperture.count,
      coupling: aperture.coupling,
      inertance: aperture.inertance,
      range: aperture.range,
      viscous: aperture.viscous,
    },
  });
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

/** Normal velocity of the outer panels under each motion of the structure, then under each pattern of the opening. */
export function outerPatterns(
  surface: ExteriorSurface,
  body: Pick<BodyModes, "surface" | "shapes">,
  cavity: CavityModes | null,
): Float64Array {
  const motions = panelFlows(surface, body.surface, body.shapes);
  const aperture = cavity?.aperture ?? null;
  const flows =
    aperture === null ? new Float64Array(0) : apertureFlows(surface, aperture.centroids, aperture.flow);
  const out = new Float64Array(motions.length + flows.length);
  out.set(motions);
  out.set(flows, motions.length);
  return out;
}

/** The outer air at all frequencies, from fields solved at some of them each, in any order. */
export function outerAir(fields: readonly ExteriorField[]): OuterAir {
  const first = fields[0];
  invariant(first !== undefined, () => "no outer field");
  const rows = fields
    .flatMap((field) => Array.from(field.frequencies, (hz, at) => ({ field, hz, at })))
    .sort((a, b) => a.hz - b.hz);
  const gathered = (of: (field: ExteriorField) => Float64Array): Float64Array => {
    const width = of(first).length / first.frequencies.length;
    const out = new Float64Array(rows.length * width);
    rows.forEach(({ field, at }, i) => {
      out.set(of(field).subarray(at * width, (at + 1) * width), i * width);
    });
    return out;
  };
  return {
    count: first.count,
    frequencies: Float64Array.from(rows, ({ hz }) => hz),
    soundSpeed: first.soundSpeed,
    resistance: gathered((field) => field.resistance),
    mass: gathered((field) => field.mass),
    pressureRe: gathered((field) => field.pressureRe),
    pressureIm: gathered((field) => field.pressureIm),
    travel: first.travel,
  };
}
