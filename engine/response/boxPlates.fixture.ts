import { generalizedSymmetricEigen, opened } from "#engine/numerics";
import type { Crown } from "./structureParts.ts";
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
export interface PlateMode {
  readonly plate: SupportedPlate;
  readonly m: number;
  readonly n: number;
  readonly omega: number;
  readonly top: boolean;
}

export const wave = (plate: SupportedPlate, m: number, n: number, x: number, y: number) => {
  const scale = 2 / Math.sqrt(plate.massPerArea * plate.length * plate.width);
  const u = (m * Math.PI * x) / plate.length;
  const v = n * Math.PI * (y / plate.width + 0.5);
  return {
    w: scale * Math.sin(u) * Math.sin(v),
    dx: ((scale * m * Math.PI) / plate.length) * Math.cos(u) * Math.sin(v),
    dy: ((scale * n * Math.PI) / plate.width) * Math.sin(u) * Math.cos(v),
  };
};

/** Motion of the rim at a place by its six rigid motions [U, Theta] about the origin, x y z rows of 6. */
export const rigidAt = (x: number, y: number, z: number) => [
  [1, 0, 0, 0, z, -y],
  [0, 1, 0, -z, 0, x],
  [0, 0, 1, y, -x, 0],
];

/** Plates held at the rim, rim by its six rigid motions: modes of the whole, rigid motions first; vectors over [rigid, own]. */
export function inVacuo(
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
export function missingFlexibility(
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
