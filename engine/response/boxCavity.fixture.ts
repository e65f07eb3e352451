import { boxBack, boxDepth, inVacuo, type PlateMode, rigidAt } from "./boxPlates.fixture.ts";
import type { CavityAir, StructureModes } from "./structureParts.ts";
import type { SupportedPlate } from "./supportedPlate.fixture.ts";
import type { BoxOptions, boxAir } from "./wholeBox.fixture.ts";

/** Cavity modes of the rigid box in closed form, coupled over all six faces. */
export function boxCavity(
  body: StructureModes,
  plate: SupportedPlate,
  own: readonly PlateMode[],
  rim: number | "held",
  air: typeof boxAir,
  o: BoxOptions,
): CavityAir {
  const { length: a, width: b } = plate;
  const c = air.soundSpeed;
  const [listed, all] = o.cavity ?? [12, 150];
  const modes: { p: number; q: number; r: number; omega: number }[] = [];
  for (let p = 0; p < 10; p++)
    for (let q = 0; q < 8; q++)
      for (let r = 0; r < 4; r++)
        modes.push({ p, q, r, omega: c * Math.PI * Math.hypot(p / a, q / b, r / boxDepth) });
  modes.sort((s, t) => s.omega - t.omega);
  modes.length = Math.min(modes.length, all);
  const net = o.volume ?? a * b * boxDepth;
  const half = (k: number) => (k === 0 ? 1 : 0.5);
  const volume = Float64Array.from(modes, ({ p, q, r }) => net * half(p) * half(q) * half(r));
  const size = body.rigidCount + body.count;
  // Coupling of the plates' own modes and of the rigid motions of the box's walls, then of the body's modes.
  const n = size;
  const r6 = rim === "held" ? 0 : 6;
  const { vectors } = inVacuo(own, plate, { ...boxBack, ...o.back }, rim);
  const wall = new Float64Array(size * modes.length);
  const integral = (length: number, m: number, p: number) =>
    (m + p) % 2 === 0 ? 0 : ((length / Math.PI) * 2 * m) / (m * m - p * p);
  modes.forEach((mode, k) => {
    const basis = new Float64Array(n);
    own.forEach((s, i) => {
      const scale = 2 / Math.sqrt(s.plate.massPerArea * a * b);
      basis[r6 + i] =
        scale * integral(a, s.m, mode.p) * integral(b, s.n, mode.q) * (s.top ? (-1) ** mode.r : 1);
    });
    if (r6) basis.set(rigidCoupling(mode, a, b), 0);
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += vectors[i * n + j] * basis[j];
      wall[i * modes.length + k] = sum;
    }
  });
  const at = (mode: { p: number; q: number; r: number }) =>
    Math.cos((mode.p * Math.PI * 0.34) / a) * Math.cos(mode.q * Math.PI * 0.5) * (-1) ** mode.r;
  const coupling = Float64Array.from(modes, at);
  const residual = new Float64Array((size + 1) ** 2);
  for (let k = listed; k < modes.length; k++) {
    const mass = (air.density * c * c) / volume[k] / modes[k].omega ** 2;
    const s = (i: number) => (i < size ? wall[i * modes.length + k] : 0);
    for (let i = 0; i <= size; i++)
      for (let j = 0; j <= size; j++) residual[i * (size + 1) + j] += mass * s(i) * s(j);
  }
  const few = modes.slice(0, listed);
  const kept = new Float64Array(size * listed);
  for (let i = 0; i < size; i++)
    kept.set(wall.subarray(i * modes.length, i * modes.length + listed), i * listed);
  const inertance = o.inertance ?? (1.2 * 0.9) / (Math.PI * 0.05);
  return {
    count: listed,
    omega: Float64Array.from(few, (m) => m.omega),
    volume: volume.slice(0, listed),
    heat: new Float64Array(listed).fill(o.heat ?? 0.02),
    friction: new Float64Array(listed).fill(o.friction ?? 0.02),
    leak: o.leak ?? 2e-8,
    wall: kept,
    residual,
    slope: Float64Array.from(
      few.flatMap(({ p, q, r }) => [p === 1 && q + r === 0 ? 1 : 0, q === 1 && p + r === 0 ? 1 : 0]),
    ),
    aperture: {
      count: 1,
      coupling: coupling.slice(0, listed),
      inertance: Float64Array.of(inertance),
      range: { low: Float64Array.of(0.9 * inertance), high: Float64Array.of(1.1 * inertance) },
      viscous: Float64Array.of(o.viscous ?? 2),
    },
    air,
  };
}

/** Integral over the six walls of psi times the outward normal of a rigid motion [U, Theta]. */
function rigidCoupling({ p, q, r }: { p: number; q: number; r: number }, a: number, b: number): Float64Array {
  const out = new Float64Array(6);
  const psi = (x: number, y: number, z: number) =>
    Math.cos((p * Math.PI * x) / a) *
    Math.cos(q * Math.PI * (y / b + 0.5)) *
    Math.cos((r * Math.PI * (z + boxDepth)) / boxDepth);
  const steps = 16;
  const add = (x: number, y: number, z: number, normal: readonly number[], area: number) => {
    const f = psi(x, y, z) * area;
    rigidAt(x, y, z).forEach((row, d) => {
      if (normal[d] !== 0)
        row.forEach((v, i) => {
          out[i] += f * normal[d] * v;
        });
    });
  };
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const [s, t] = [(i + 0.5) / steps, (j + 0.5) / steps];
      for (const side of [-1, 1]) {
        add(a * s, b * (t - 0.5), side > 0 ? 0 : -boxDepth, [0, 0, side], (a * b) / steps ** 2);
        add(side > 0 ? a : 0, b * (s - 0.5), -boxDepth * t, [side, 0, 0], (b * boxDepth) / steps ** 2);
        add(a * s, (side * b) / 2, -boxDepth * t, [0, side, 0], (a * boxDepth) / steps ** 2);
      }
    }
  }
  return out;
}
