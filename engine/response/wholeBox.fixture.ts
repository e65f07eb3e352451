import { airProperties } from "#engine/air";
import { boxCavity } from "./boxCavity.fixture.ts";
import {
  boxBack,
  boxDepth,
  boxTop,
  inVacuo,
  missingFlexibility,
  type PlateMode,
  rigidAt,
  wave,
} from "./boxPlates.fixture.ts";
import type { Crown, OuterAir, StructureModes, StructureParts } from "./structureParts.ts";
import { type SupportedPlate, supportedModes } from "./supportedPlate.fixture.ts";

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
