import { airProperties } from "#engine/air";
import { generalizedSymmetricEigen, opened } from "#engine/numerics";
import type { CavityAir, Crown, OuterAir, StructureModes, StructureParts } from "./structureParts.ts";
import { boxMass, type SupportedPlate, supportedModes } from "./supportedPlate.fixture.ts";

/** A box of the size of a guitar: two supported spruce-like plates on a rigid rim, a round hole, six crowns. Invented. */
export const boxTop: SupportedPlate = {
  length: 0.48,
  width: 0.36,
  massPerArea: 1.6,
  D1: 420,
  D2: 80,
  D3: 95,
  lossFactor: 0.02,
  count: 24,
  cells: [24, 18],
};
export const boxBack: SupportedPlate = {
  ...boxTop,
  massPerArea: 1.9,
  D1: 620,
  D2: 230,
  D3: 220,
  lossFactor: 0.018,
};
export const boxDepth = 0.1;
export const boxAir = airProperties({ temperature: 293.15, pressure: 101325, relativeHumidity: 0.5 });

/** Six crowns over the top, 14 mm high; the nut 0.65 m further. */
export const boxCrowns: readonly Crown[] = [-0.1, -0.06, -0.02, 0.02, 0.06, 0.1].map((y, k) => ({
  string: k + 1,
  x: 0.16,
  y,
  height: 0.014,
}));
const nutX = 0.81;

export interface BoxOptions {
  readonly top?: Partial<SupportedPlate>;
  readonly back?: Partial<SupportedPlate>;
  /** kg of the rigid rim, or "held". */
  readonly rim?: number | "held";
  readonly crowns?: readonly Crown[];
  /** Modes of each plate behind the point flexibility. */
  readonly flexible?: number;
  /** N/m by string; null: off. */
  readonly strings?: number | null;
  /** Cavity modes listed (the even pressure included), and all that are counted at all. */
  readonly cavity?: readonly [listed: number, all: number];
  readonly volume?: number;
  readonly leak?: number;
  readonly heat?: number;
  readonly friction?: number;
  readonly inertance?: number;
  readonly viscous?: number;
  readonly air?: typeof boxAir;
  /** The outer air: a small source of the net flow, or none. */
  readonly outside?: "small source" | "none";
}

interface PlateMode {
  readonly plate: SupportedPlate;
  readonly m: number;
  readonly n: number;
  readonly omega: number;
  readonly top: boolean;
}

const wave = (plate: SupportedPlate, m: number, n: number, x: number, y: number) => {
  const scale = 2 / Math.sqrt(plate.massPerArea * plate.length * plate.width);
  const u = (m * Math.PI * x) / plate.length;
  const v = n * Math.PI * (y / plate.width + 0.5);
  return {
    w: scale * Math.sin(u) * Math.sin(v),
    dx: ((scale * m * Math.PI) / plate.length) * Math.cos(u) * Math.sin(v),
    dy: ((scale * n * Math.PI) / plate.width) * Math.sin(u) * Math.cos(v),
  };
};

/** The coupled box, with whatever is to differ. */
export function wholeBox(o: BoxOptions = {}): StructureParts {
  const top = { ...boxTop, ...o.top };
  const back = { ...boxBack, ...o.back };
  const crowns = o.crowns ?? boxCrowns;
  const rim = o.rim ?? 1.4;
  const air = o.air ?? boxAir;
  const own = [
    ...supportedModes(top).map((k) => ({ ...k, plate: top, top: true })),
    ...supportedModes(back).map((k) => ({ ...k, plate: back, top: false })),
  ];
  const body = rimmed(own, top, back, rim, crowns, o.flexible ?? 200);
  const cavity = boxCavity(body, top, own, rim, air, o);
  const p = body.rigidCount + body.count;
  const flow = new Float64Array(p + 1);
  for (let i = 0; i < p; i++) flow[i] = body.volume[3 * i] + body.volume[3 * i + 1] + body.volume[3 * i + 2];
  flow[p] = 1;
  const strings = o.strings ?? null;
  return {
    body,
    matrices: null,
    crowns,
    strings:
      strings === null ? null : crowns.map(() => ({ stiffness: strings, direction: [1, 0, 0] as const })),
    cavity,
    outside: o.outside === "none" ? null : smallSource(flow, air),
    air,
    topRim: null,
    topMean: { stiffness: Math.sqrt(top.D1 * top.D2), massPerArea: top.massPerArea },
    basisToHz: 1500,
  };
}

/** One small source of the net flow in free space: rho w^2/4 pi c of resistance, rho/4 pi of pressure at 1 m. */
export function smallSource(flow: Float64Array, air: typeof boxAir): OuterAir {
  const count = flow.length;
  const frequencies = Float64Array.of(0, 100, 300, 600, 1000, 1500);
  const f = frequencies.length;
  const resistance = new Float64Array(f * count * count);
  const pressure = new Float64Array(f * 2 * count);
  for (let k = 0; k < f; k++) {
    for (let i = 0; i < count; i++) {
      for (let j = 0; j < count; j++)
        resistance[(k * count + i) * count + j] =
          (air.density / (4 * Math.PI * air.soundSpeed)) * flow[i] * flow[j];
      for (let l = 0; l < 2; l++) pressure[(2 * k + l) * count + i] = (air.density / (4 * Math.PI)) * flow[i];
    }
  }
  return {
    count,
    frequencies,
    soundSpeed: air.soundSpeed,
    resistance,
    mass: new Float64Array(f * count * count),
    pressureRe: pressure,
    pressureIm: new Float64Array(pressure.length),
    travel: Float64Array.of(1, 1),
  };
}

/** Motion of the rim at a place by its six rigid motions [U, Theta] about the origin, x y z rows of 6. */
const rigidAt = (x: number, y: number, z: number) => [
  [1, 0, 0, 0, z, -y],
  [0, 1, 0, -z, 0, x],
  [0, 0, 1, y, -x, 0],
];

/** Modes of both plates on the rim in vacuo, on a closed surface of top, back and sides. */
function rimmed(
  own: readonly PlateMode[],
  top: SupportedPlate,
  back: SupportedPlate,
  rim: number | "held",
  crowns: readonly Crown[],
  flexible: number,
): StructureModes {
  const r = rim === "held" ? 0 : 6;
  const k = own.length;
  const n = r + k;
  const { vectors, omega } = inVacuo(own, top, back, rim);
  const [nx, ny] = top.cells;
  const plateNodes = (nx + 1) * (ny + 1);
  const nodes = new Float64Array(6 * plateNodes);
  const plan = new Float64Array(2 * plateNodes);
  for (let s = 0; s < plateNodes; s++) {
    const [i, j] = [s % (nx + 1), Math.floor(s / (nx + 1))];
    plan.set([(top.length * i) / nx, top.width * (j / ny - 0.5)], 2 * s);
    nodes.set([plan[2 * s], plan[2 * s + 1], 0], 3 * s);
    nodes.set([plan[2 * s], plan[2 * s + 1], -boxDepth], 3 * (plateNodes + s));
  }
  const triangles: number[] = [];
  const flat: number[] = [];
  const part: number[] = [];
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const a = j * (nx + 1) + i;
      const cell = [a, a + 1, a + nx + 2, a, a + nx + 2, a + nx + 1];
      flat.push(...cell);
      triangles.push(...cell);
      part.push(0, 0);
    }
  }
  for (let t = 0; t < flat.length; t += 3) {
    triangles.push(plateNodes + flat[t], plateNodes + flat[t + 2], plateNodes + flat[t + 1]);
    part.push(1);
  }
  const edge = [
    ...Array.from({ length: nx }, (_, i) => i),
    ...Array.from({ length: ny }, (_, j) => j * (nx + 1) + nx),
    ...Array.from({ length: nx }, (_, i) => ny * (nx + 1) + nx - i),
    ...Array.from({ length: ny }, (_, j) => (ny - j) * (nx + 1)),
  ];
  edge.forEach((a, e) => {
    const b = edge[(e + 1) % edge.length];
    triangles.push(a, plateNodes + a, plateNodes + b, a, plateNodes + b, b);
    part.push(2, 2);
  });
  const all = nodes.length / 3;
  const shapes = new Float64Array(n * 3 * all);
  const volume = new Float64Array(3 * n);
  const energyShare = new Float64Array(4 * k);
  const loss = new Float64Array(k * k);
  const points = new Float64Array(n * 12 * crowns.length);
  const scaleOf = (q: PlateMode) => 2 / Math.sqrt(q.plate.massPerArea * q.plate.length * q.plate.width);
  for (let i = 0; i < n; i++) {
    const x = vectors.subarray(i * n, i * n + n);
    for (let s = 0; s < all; s++) {
      const isTop = s < plateNodes;
      const place = [nodes[3 * s], nodes[3 * s + 1], nodes[3 * s + 2]] as const;
      for (let d = 0; d < 3; d++) {
        let sum = 0;
        for (let b = 0; b < r; b++) sum += rigidAt(...place)[d][b] * x[b];
        shapes[3 * (i * all + s) + d] = sum;
      }
      own.forEach((q, b) => {
        if (q.top !== isTop) return;
        const { w } = wave(q.plate, q.m, q.n, place[0], place[1]);
        shapes[3 * (i * all + s) + 2] += (q.top ? 1 : -1) * w * x[r + b];
      });
    }
    own.forEach((q, b) => {
      const side = (length: number, m: number) => (length / (m * Math.PI)) * (1 - (-1) ** m);
      volume[3 * i + (q.top ? 0 : 1)] +=
        x[r + b] * scaleOf(q) * side(q.plate.length, q.m) * side(q.plate.width, q.n);
      if (i >= r) energyShare[4 * (i - r) + (q.top ? 0 : 1)] += x[r + b] ** 2;
    });
    if (r > 0) {
      // The plates heave with the rim: U + Theta x (centre), and the sides take back what both leave.
      const heave = rigidAt(top.length / 2, 0, 0)[2].reduce((sum, f, b) => sum + f * x[b], 0);
      volume[3 * i] += top.length * top.width * heave;
      volume[3 * i + 1] -= top.length * top.width * heave;
      if (i >= r) energyShare[4 * (i - r) + 2] = 1 - energyShare[4 * (i - r)] - energyShare[4 * (i - r) + 1];
    }
    crowns.forEach(({ x: cx, y: cy }, c) => {
      const at = 12 * crowns.length * i;
      const motion = (px: number, py: number, pz: number, bent: boolean) => {
        const out = [0, 0, 0, 0, 0, 0];
        for (let d = 0; d < 3; d++) for (let b = 0; b < r; b++) out[d] += rigidAt(px, py, pz)[d][b] * x[b];
        for (let b = 3; b < r; b++) out[b] += x[b];
        if (!bent) return out;
        own.forEach((q, b) => {
          if (!q.top) return;
          const { w, dx, dy } = wave(q.plate, q.m, q.n, px, py);
          out[2] += w * x[r + b];
          out[3] += dy * x[r + b];
          out[4] -= dx * x[r + b];
        });
        return out;
      };
      points.set(motion(cx, cy, 0, true), at + 6 * c);
      points.set(motion(nutX, cy, 0.014, false), at + 6 * (crowns.length + c));
    });
  }
  // D of the plates' own modes is diagonal.
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      let sum = 0;
      own.forEach((q, b) => {
        sum +=
          q.plate.lossFactor * q.omega ** 2 * vectors[(r + i) * n + r + b] * vectors[(r + j) * n + r + b];
      });
      loss[i * k + j] = sum;
    }
  }
  const triangleArray = Uint32Array.from(flat);
  const mesh = {
    nodes: nodes.slice(0, 3 * plateNodes),
    triangles: triangleArray,
    boundary: [],
    ribs: [],
    plan: { nodes: plan, triangles: triangleArray, boundary: [], lines: [] },
  };
  return {
    count: k,
    omega,
    rigidCount: r,
    surface: { nodes, triangles: Uint32Array.from(triangles), part: Uint8Array.from(part) },
    shapes,
    loss,
    points,
    pointResidual: missingFlexibility(top, crowns, flexible, top.count),
    energyShare,
    volume,
    mesh: {
      top: mesh,
      back: mesh,
      topNode: Uint32Array.from({ length: plateNodes }, (_, s) => s),
      backNode: Uint32Array.from({ length: plateNodes }, (_, s) => plateNodes + s),
    },
    totalMass: (top.massPerArea + back.massPerArea) * top.length * top.width + (rim === "held" ? 0 : rim),
  };
}

/** Plates held at the rim, rim by its six rigid motions: modes of the whole, rigid motions first; vectors over [rigid, own]. */
function inVacuo(
  own: readonly PlateMode[],
  top: SupportedPlate,
  back: SupportedPlate,
  rim: number | "held",
): { vectors: Float64Array; omega: Float64Array } {
  const r = rim === "held" ? 0 : 6;
  const n = r + own.length;
  const mass = new Float64Array(n * n);
  const stiffness = new Float64Array(n * n);
  own.forEach((q, b) => {
    mass[(r + b) * (n + 1)] = 1;
    stiffness[(r + b) * (n + 1)] = q.omega ** 2;
  });
  if (rim === "held") return { vectors: mass, omega: Float64Array.from(own, (q) => q.omega) };
  const box = boxMass(rim, [0.35, 0, -0.05], [0.7, 0.3, 0.1]);
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) mass[i * n + j] = box[6 * i + j];
  for (const [plate, z, sign] of [
    [top, 0, 1],
    [back, -boxDepth, -1],
  ] as const) {
    const sheet = boxMass(
      plate.massPerArea * plate.length * plate.width,
      [plate.length / 2, 0, z],
      [plate.length, plate.width, 0],
    );
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) mass[i * n + j] += sheet[6 * i + j];
    // Integral of the plate's wave times the lift [1, y, -x] of the rigid motions U_z, Theta_x, Theta_y.
    own.forEach((q, b) => {
      if (q.top !== sign > 0) return;
      const { length, width, massPerArea } = plate;
      const even = (side: number, m: number) => (side / (m * Math.PI)) * (1 - (-1) ** m);
      const first = (side: number, m: number) => (-(side * side) / (m * Math.PI)) * (-1) ** m;
      const [sx, sy] = [even(length, q.m), even(width, q.n)];
      const f = sign * massPerArea * (2 / Math.sqrt(massPerArea * length * width));
      [sx * sy, sx * (first(width, q.n) - (width / 2) * sy), -first(length, q.m) * sy].forEach((v, i) => {
        mass[(2 + i) * n + r + b] += f * v;
        mass[(r + b) * n + 2 + i] += f * v;
      });
    });
  }
  const { values, vectors } = opened(generalizedSymmetricEigen(stiffness, mass, n));
  // Rigid motions are the rim's coordinates alone; what rounding mixed in goes.
  for (let i = 0; i < 6; i++) vectors.fill(0, i * n + 6, (i + 1) * n);
  return { vectors, omega: values.slice(6).map(Math.sqrt) };
}

/** 12C x 12C: static flexibility of the plate's own modes beyond the listed ones, crowns' feet first; the nut does not bend. */
function missingFlexibility(
  plate: SupportedPlate,
  crowns: readonly Crown[],
  count: number,
  listed: number,
): Float64Array {
  const size = 12 * crowns.length;
  const out = new Float64Array(size * size);
  const motion = new Float64Array(size);
  supportedModes({ ...plate, count }).forEach(({ m, n, omega }, index) => {
    if (index < listed) return;
    crowns.forEach(({ x, y }, c) => {
      const { w, dx, dy } = wave(plate, m, n, x, y);
      motion.set([0, 0, w, dy, -dx, 0], 6 * c);
    });
    for (let a = 0; a < size / 2; a++)
      for (let b = 0; b < size / 2; b++) out[a * size + b] += (motion[a] * motion[b]) / omega ** 2;
  });
  return out;
}

/** Cavity modes of the rigid box in closed form, coupled over all six faces. */
function boxCavity(
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
