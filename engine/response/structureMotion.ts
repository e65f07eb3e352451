import type { CoupledStructure } from "./coupledStructure.ts";
import type { DampedStructure } from "./dampedStructure.ts";
import type { StructureMotion } from "./nameStructureModes.ts";
import type { StructureParts } from "./structureParts.ts";
import { timesTransposed } from "./timesTransposed.ts";

/** Undamped motions in the coordinates of the parts: rigid motions of the whole body first, then the modes. */
export interface ModeCoordinates {
  readonly rigidCount: number;
  readonly count: number;
  /** (rigidCount + count) x P. */
  readonly structure: Float64Array;
  /** count x A, count x cavity modes (y_n). */
  readonly aperture: Float64Array;
  readonly cavity: Float64Array;
}

export function modeCoordinates(c: CoupledStructure, d: DampedStructure): ModeCoordinates {
  const { n, rows, laws } = c;
  const { count, rigidCount, vectors, rigid } = d;
  const p = c.structureCount;
  const structure = new Float64Array((rigidCount + count) * p);
  structure.set(timesTransposed(rigid, rows.structure, rigidCount, p, n));
  structure.set(timesTransposed(vectors, rows.structure, count, p, n), rigidCount * p);
  return {
    rigidCount,
    count,
    structure,
    aperture: timesTransposed(vectors, rows.aperture, count, c.apertureCount, n),
    cavity: laws ? timesTransposed(vectors, laws.flow, count, laws.count, n) : new Float64Array(0),
  };
}

/** Flows and shares of the kinetic energy, by which modes are named. Products of two of the structure's modes in one part are left out. */
export function structureMotion(
  parts: StructureParts,
  c: CoupledStructure,
  d: DampedStructure,
  x: ModeCoordinates,
): StructureMotion {
  const { body, cavity } = parts;
  const { count, rigidCount: r } = d;
  const p = c.structureCount;
  const a = c.apertureCount;
  const flow = timesTransposed(d.vectors, c.rows.flow, count, 4, c.n);
  const pick = (k: number) => Float64Array.from({ length: count }, (_, i) => flow[4 * i + k]);
  const share = new Float64Array(5 * count);
  const openingShare = new Float64Array(count);
  const width = c.laws?.count ?? 0;
  const cavityShare = new Float64Array(count * width);
  for (let i = 0; i < count; i++) {
    const own = x.structure.subarray((r + i) * p, (r + i + 1) * p);
    for (let k = 0; k < body.count; k++) {
      const energy = own[r + k] ** 2;
      for (let part = 0; part < 4; part++) share[5 * i + part] += energy * body.energyShare[4 * k + part];
    }
    for (let s = 0; s < a; s++) {
      for (let t = 0; t < a; t++)
        openingShare[i] += x.aperture[i * a + s] * c.inertance[s * a + t] * x.aperture[i * a + t];
    }
    share[5 * i + 4] = openingShare[i];
    for (let m = 0; m < width; m++) {
      const energy = (c.laws?.inertia[m] ?? 0) * x.cavity[i * width + m] ** 2;
      cavityShare[i * width + m] = energy;
      share[5 * i + 4] += energy;
    }
  }
  return {
    count,
    square: d.square,
    topFlow: pick(0),
    backFlow: pick(1),
    holeFlow: pick(3),
    share,
    openingShare,
    cavityShare,
    slope: cavity?.slope ?? new Float64Array(0),
    nut: nutMotion(parts, x),
  };
}

/** m, half the width between the outer strings at the nut: makes a turn comparable with a motion. */
const HALF_NUT = 0.02;

function nutMotion(parts: StructureParts, x: ModeCoordinates): Float64Array {
  const { body, crowns } = parts;
  const p = body.rigidCount + body.count;
  const size = body.points.length / p;
  const out = new Float64Array(3 * x.count);
  const c = crowns.length;
  if (size < 12 * c) return out;
  // Mean over the nut's points of [uz, uy, rx].
  const mean = new Float64Array(3 * p);
  for (let i = 0; i < p; i++) {
    for (let s = 0; s < c; s++) {
      [2, 1, 3].forEach((k, d) => {
        mean[d * p + i] += body.points[i * size + 6 * (c + s) + k] / c;
      });
    }
  }
  const moved = timesTransposed(x.structure.subarray(x.rigidCount * p), mean, x.count, 3, p);
  for (let k = 0; k < moved.length; k++) out[k] = (k % 3 === 2 ? HALF_NUT * moved[k] : moved[k]) ** 2;
  return out;
}
