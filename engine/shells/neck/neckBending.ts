/** A neck bent by its strings and its rod, in the upright plane along the centreline. */
import { done, failed, type Outcome } from "#engine/numerics";

/** The neck as a tapered cantilever. x runs from the joint (0) to the nut, rising, m; all arrays of one length. */
export interface NeckBeam {
  readonly x: Float64Array;
  /** Bending stiffness, N m2, straight between the places. */
  readonly EI: Float64Array;
  /** Elastic centre under the board's surface, m. */
  readonly axisDepth: Float64Array;
  /** Turn of the joint under a moment, rad/(N m); 0: it does not give. */
  readonly jointCompliance: number;
}

/** A string: straight from its crown at the nut to a place on the body that stays where it is. */
export interface NeckPull {
  /** N */
  readonly tension: number;
  /** Over the board's surface at the nut, m. */
  readonly heightAtNut: number;
  /** How much it gains on the board's unbent line by metre towards the saddle. */
  readonly climb: number;
  /** From the joint to the saddle, m; infinite: a force that keeps its direction. */
  readonly pole: number;
}

/** Prestress between two anchors in the neck. A tendon of `force` lies `depth` under the board's surface; a couple bends the neck back by `moment` alone. */
export interface NeckTendon {
  readonly from: number;
  readonly to: number;
  /** N, tension above 0. */
  readonly force: number;
  readonly depth: number;
  /** N m, above 0 bends the nut back. */
  readonly moment: number;
}

export interface BentNeck {
  readonly x: Float64Array;
  /** Of the board's line, upwards, m. */
  readonly rise: Float64Array;
  /** Without what the strings gain on the bent neck (first order). */
  readonly firstRise: Float64Array;
  /** Bending moment, N m, above 0 bends the nut up (hollow board). */
  readonly moment: Float64Array;
  /** Factor on the pulls at which the neck buckles; infinite without pulls. */
  readonly criticalFactor: number;
}

const cells = 400;

/**
 * w'' = M / EI, w(0) = 0, w'(0) = turn + compliance M(0), with
 *   M(x) = sum T (h(x) + e(x) + w(L) (x + c) / (L + c) - w(x)) - sum F (d - e(x)) - sum C,
 * h the string's height over the board, e the elastic centre's depth, c its pole, F a tendon at depth d and C a couple
 * where they reach. What lies between nut and posts pulls on itself: of it the neck feels nothing. Steps of L / 400, error of
 * second order in them (1e-5). Source: beam-column theory (Timoshenko and Gere, Theory of Elastic Stability, from memory).
 * Fails with 'neck-buckles' where the pulls pass the critical ones.
 */
export function neckBending(
  beam: NeckBeam,
  pulls: readonly NeckPull[],
  tendons: readonly NeckTendon[],
  bodyTurn = 0,
): Outcome<BentNeck> {
  const grid = bendingGrid(beam);
  const { x, h, length, axis } = grid;
  const fixed = grid.middle.map((s, k) => {
    const strings = pulls.reduce(
      (sum, p) => sum + p.tension * (p.heightAtNut + p.climb * (length - s) + axis[k]!),
      0,
    );
    return tendons.reduce((sum, t) => {
      const reach = Math.max(0, Math.min(t.to, s + h / 2) - Math.max(t.from, s - h / 2)) / h;
      return sum - reach * (t.force * (t.depth - axis[k]!) + t.moment);
    }, strings);
  });
  const firstRise = integrated(grid, fixed, bodyTurn);
  const criticalFactor = critical(grid, pulls);
  if (criticalFactor <= 1)
    return failed(
      "neck-buckles",
      `the strings pull ${(1 / criticalFactor).toFixed(2)} times what buckles the neck`,
    );
  let rise = firstRise;
  for (let pass = 0; pass < 400; pass++) {
    const more = gained(grid, pulls, rise);
    const next = integrated(
      grid,
      fixed.map((m, k) => m + more[k]!),
      bodyTurn,
    );
    const moved = next.reduce((most, w, k) => Math.max(most, Math.abs(w - rise[k]!)), 0);
    rise = next;
    if (moved < 1e-13) break;
  }
  const last = gained(grid, pulls, rise);
  const atMiddle = fixed.map((m, k) => m + last[k]!);
  return done({ x, rise, firstRise, moment: nodeValues(atMiddle), criticalFactor });
}

interface Grid {
  readonly x: Float64Array;
  readonly middle: Float64Array;
  readonly h: number;
  readonly length: number;
  readonly EI: Float64Array;
  readonly axis: Float64Array;
  readonly compliance: number;
}

function bendingGrid(beam: NeckBeam): Grid {
  const length = beam.x[beam.x.length - 1]!;
  const h = length / cells;
  const middle = Float64Array.from({ length: cells }, (_, k) => (k + 0.5) * h);
  let i = 0;
  const EI = new Float64Array(cells);
  const axis = new Float64Array(cells);
  middle.forEach((s, k) => {
    while (i + 2 < beam.x.length && beam.x[i + 1]! < s) i++;
    const share = (s - beam.x[i]!) / (beam.x[i + 1]! - beam.x[i]!);
    EI[k] = beam.EI[i]! + share * (beam.EI[i + 1]! - beam.EI[i]!);
    axis[k] = beam.axisDepth[i]! + share * (beam.axisDepth[i + 1]! - beam.axisDepth[i]!);
  });
  const x = Float64Array.from({ length: cells + 1 }, (_, k) => k * h);
  return { x, middle, h, length, EI, axis, compliance: beam.jointCompliance };
}

/** Rise at the nodes from moments in the middle of the cells. */
function integrated({ h, EI, compliance }: Grid, moment: Float64Array, turn: number): Float64Array {
  const rise = new Float64Array(cells + 1);
  let slope = turn + compliance * (1.5 * moment[0]! - 0.5 * moment[1]!);
  for (let k = 0; k < cells; k++) {
    const curvature = moment[k]! / EI[k]!;
    rise[k + 1] = rise[k]! + slope * h + (curvature * h * h) / 2;
    slope += curvature * h;
  }
  return rise;
}

/** What straight strings gain in moment as the neck bends away from them. */
function gained({ middle, length }: Grid, pulls: readonly NeckPull[], rise: Float64Array): Float64Array {
  const tip = rise[cells]!;
  return middle.map((s, k) => {
    const own = (rise[k]! + rise[k + 1]!) / 2;
    return pulls.reduce((sum, { tension, pole }) => {
      const share = Number.isFinite(pole) ? (s + pole) / (length + pole) : 1;
      return sum + tension * (tip * share - own);
    }, 0);
  });
}

/** Power iteration on shape -> shape that the gained moment makes of it. */
function critical(grid: Grid, pulls: readonly NeckPull[]): number {
  if (!pulls.some((p) => p.tension > 0)) return Number.POSITIVE_INFINITY;
  let shape = grid.x.map((s) => (s / grid.length) ** 2);
  let factor = 0;
  for (let pass = 0; pass < 200; pass++) {
    const next = integrated(grid, gained(grid, pulls, shape), 0);
    const size = next.reduce((most, w) => (Math.abs(w) > Math.abs(most) ? w : most), 0);
    const before = factor;
    factor = 1 / Math.abs(size);
    shape = next.map((w) => w / size);
    if (Math.abs(factor - before) < 1e-12 * factor) break;
  }
  return factor;
}

function nodeValues(atMiddle: Float64Array): Float64Array {
  const last = atMiddle.length - 1;
  return Float64Array.from({ length: last + 2 }, (_, k) => {
    if (k === 0) return 1.5 * atMiddle[0]! - 0.5 * atMiddle[1]!;
    if (k > last) return 1.5 * atMiddle[last]! - 0.5 * atMiddle[last - 1]!;
    return (atMiddle[k - 1]! + atMiddle[k]!) / 2;
  });
}
