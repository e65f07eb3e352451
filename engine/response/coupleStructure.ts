import { type Context, done, failed, type Outcome, transposed, type Warning } from "#engine/numerics";
import type { BodyResponse, NeckMotion } from "./bodyResponse.ts";
import type { CoupledStructure } from "./coupledStructure.ts";
import { type DampedStructure, dampedStructure } from "./dampedStructure.ts";
import { drawnMotion } from "./drawnMotion.ts";
import { meanMobility } from "./meanMobility.ts";
import { modePressure, ownPressure } from "./modePressure.ts";
import { nameStructureModes } from "./nameStructureModes.ts";
import { type Coupling, prepareCoupling } from "./prepareCoupling.ts";
import { rigidWallAir } from "./rigidWallAir.ts";
import { modeCoordinates, structureMotion } from "./structureMotion.ts";
import type { StructureParts } from "./structureParts.ts";
import { structureThirds } from "./structureThirds.ts";
import { timesTransposed } from "./timesTransposed.ts";

/** Hz: above this only statistics would do. */
const MODAL_LIMIT = 1000;
/** Part of the structure's highest listed frequency up to which the coupled modes are trusted. */
const BASIS_TRUST = 0.8;
/** Hz: up to here a small source tells the level where no outer field is given. */
const SMALL_SOURCE = 300;
/** kg: a larger effective mass means that the saddle hardly moves, and is not given. */
const MASS_LIMIT = 1e4;
const DRAWN = 24;

/**
 * Couples the whole body: structure, opening, air inside by its modes, air outside by its impedance, strings as springs.
 * Symmetric in `CoupledStructure`'s coordinates; undamped modes first, then all losses with what couples them
 * (`modalLosses`): complex shapes. Crowns: modes plus what they lack of the static compliance. Fails with the reasons of
 * `prepareCoupling` and `solveCoupling`.
 */
export function coupleStructure(parts: StructureParts, ctx: Context): Outcome<BodyResponse> {
  const prepared = prepareCoupling(parts, ctx.kernels);
  if (!prepared.ok) return prepared;
  ctx.progress(0.4);
  return solveCoupling(parts, prepared.value, ctx);
}

/**
 * The part that is done again at every edit: `coupling.system` may have been changed (stiffness, mass, wood, rows) since it was
 * prepared. Fails with 'cancelled', and as
 * `dampedStructure` and `rigidWallAir` do.
 */
export function solveCoupling(
  parts: StructureParts,
  coupling: Coupling,
  ctx: Context,
): Outcome<BodyResponse> {
  if (ctx.cancelled()) return failed("cancelled", "while coupling the body");
  const { system, top } = coupling;
  const solved = dampedStructure(system, ctx.kernels);
  if (!solved.ok) return solved;
  ctx.progress(0.8);
  if (ctx.cancelled()) return failed("cancelled", "while coupling the body");
  const d = solved.value;
  const { count, rigidCount } = d;
  const c = parts.crowns.length;
  const size = 3 * c;
  const x = modeCoordinates(system, d);
  const motion = structureMotion(parts, system, d, x);
  const named = nameStructureModes(motion);
  const { rigidWallAir: known } = coupling;
  const stiffWalls = known === undefined ? rigidWallAir(parts, ctx.kernels) : done(known);
  if (!stiffWalls.ok) return stiffWalls;
  const onRigid = (forms: Float64Array) =>
    timesTransposed(d.rigid, forms, rigidCount, forms.length / system.n, system.n);
  const residual = keepStaticLimit(system, d);
  const own = structureThirds(top, x);
  const drawn = top.lift.length > 0 ? Math.min(DRAWN, count) : 0;
  const modesToHz = Math.min(MODAL_LIMIT, BASIS_TRUST * parts.basisToHz);
  const outer = system.outside?.omega;
  const levelLimit = outer ? outer[outer.length - 1] / (2 * Math.PI) : SMALL_SOURCE;
  const { density } = parts.air;
  const pressure = modePressure(system, d);
  const response: BodyResponse = {
    count,
    frequency: d.omega.map((w) => w / (2 * Math.PI)),
    q: d.q,
    effectiveMass: Array.from(d.saddle.re, (s, i) => {
      const square = s * s + d.saddle.im[i] ** 2;
      return square * MASS_LIMIT >= 1 ? 1 / square : null;
    }),
    name: named.name,
    rival: named.rival,
    strings: parts.crowns.map((crown) => crown.string),
    crownShape: transposed(d.crowns.re, size, count),
    saddleShape: d.saddle.re,
    imaginary: {
      crown: transposed(d.crowns.im, size, count),
      saddle: d.saddle.im,
    },
    rigidCount,
    rigidCrownShape: onRigid(system.rows.crowns),
    rigidSaddleShape: onRigid(system.rows.saddle),
    residual,
    saddleResidual: meanNormal(residual, size),
    volumeVelocityShareByThird: own.flowShare,
    holeFlowRatio: motion.holeFlow.map((h, i) => h * own.signOverFlow[i]),
    pressurePerAcceleration: pressure
      ? ownPressure(pressure, d)
      : netFlow(d.flow.re, count).map((v) => (density * v) / (4 * Math.PI)),
    ...(pressure ? { pressure } : {}),
    ...(parts.neck ? { neck: neckMotion(system, d, parts.neck.x) } : {}),
    partShare: motion.share,
    lossShare: d.lossShare,
    motionByThird: own.product,
    drawnCount: drawn,
    topMotion: drawnMotion(top.lift, x, drawn),
    backMotion: drawnMotion(coupling.backLift ?? new Float64Array(0), x, drawn),
    rigidWallAir: stiffWalls.value,
    validToHz: Math.min(levelLimit, modesToHz),
    modesToHz,
    meanMobility: parts.topMean && meanMobility(parts.topMean.stiffness, parts.topMean.massPerArea),
    air: parts.air,
  };
  ctx.progress(1);
  return done(response, closeModes(d, modesToHz));
}

function neckMotion(c: CoupledStructure, d: DampedStructure, x: Float64Array): NeckMotion {
  const { count, rigidCount, rigid } = d;
  const width = 3 * x.length;
  return {
    x,
    shape: transposed(d.neck.re, width, count),
    imaginary: transposed(d.neck.im, width, count),
    rigidShape: timesTransposed(rigid, c.rows.neck, rigidCount, width, c.n),
  };
}

function closeModes(d: DampedStructure, toHz: number): Warning[] {
  return Array.from(d.merged, (i) => d.omega[i] / (2 * Math.PI))
    .filter((hz) => hz <= toHz)
    .map((hz) => ({
      code: "close-modes",
      detail: `the mode at ${hz.toFixed(1)} Hz and its neighbour have become one by their damping: their shapes and Q are a first approximation`,
    }));
}

/** count: volume swept outward by top, back, sides and hole together (4 x count, m3 kg^-1/2). */
function netFlow(flow: Float64Array, count: number): Float64Array {
  return Float64Array.from(
    { length: count },
    (_, i) => flow[i] + flow[count + i] + flow[2 * count + i] + flow[3 * count + i],
  );
}

/**
 * The static compliance is that of the undamped modes; what the real part of the damped ones' sum differs from it at
 * w = 0 goes into the residual, so that the sum over the listed modes still ends at the static solution.
 */
function keepStaticLimit(c: CoupledStructure, d: DampedStructure): Float64Array {
  const { count, square, omega, q } = d;
  const size = d.crowns.re.length / count;
  const plain = timesTransposed(c.rows.crowns, d.vectors, size, count, c.n);
  const still = timesTransposed(
    plain.map((v, k) => v / square[k % count]),
    plain,
    size,
    size,
    count,
  );
  // 1/p, p = w^2 (1 + i/2q)^2
  const inverse = Array.from(omega, (w, i) => {
    const [a, b] = [w * w * (1 - 0.25 / q[i] ** 2), (w * w) / q[i]];
    const s = a * a + b * b;
    return [a / s, -b / s] as const;
  });
  const { re, im } = d.crowns;
  const scaledRe = re.map((v, k) => v * inverse[k % count][0] - im[k] * inverse[k % count][1]);
  const scaledIm = re.map((v, k) => v * inverse[k % count][1] + im[k] * inverse[k % count][0]);
  const one = timesTransposed(scaledRe, re, size, size, count);
  const two = timesTransposed(scaledIm, im, size, size, count);
  const out = c.residual.slice();
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const gap = (k: number) => d.beyond[k] + still[k] - one[k] + two[k];
      out[i * size + j] += 0.5 * (gap(i * size + j) + gap(j * size + i));
    }
  }
  return out;
}

/** One newton shared evenly by the crowns' normals, mean of their motions. */
function meanNormal(residual: Float64Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i += 3) for (let j = 0; j < size; j += 3) sum += residual[i * size + j];
  return sum / (size / 3) ** 2;
}
