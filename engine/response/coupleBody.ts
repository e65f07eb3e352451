import { type Context, done, failed, type Outcome, type Warning } from "#engine/numerics";
import type { BodyParts } from "./bodyParts.ts";
import type { BodyResponse } from "./bodyResponse.ts";
import { coupledBasis } from "./coupledBasis.ts";
import { type CoupledModes, coupledModes, kineticShares, modalLoss, onEach } from "./coupledModes.ts";
import type { CoupledSystem } from "./coupledSystem.ts";
import { crownResidual } from "./crownResidual.ts";
import { type DampedModes, dampedModes, type ModalSystem } from "./dampedModes.ts";
import { nameModes } from "./nameModes.ts";
import { plateMotions } from "./plateMotions.ts";

/** Hz: levels by volume velocity alone are not foreseen above this (the body is no small source any more). */
const LEVEL_LIMIT = 300;
/** Hz: above this only statistics would do. */
const MODAL_LIMIT = 1000;
/** Part of the plates' highest retained frequency up to which the coupled modes are trusted. */
const BASIS_TRUST = 0.7;
/** kg: a larger effective mass means that the saddle hardly moves, and is not given. */
const MASS_LIMIT = 1e4;

/**
 * Couples top, back, rim, cavity and hole. Each plate brings its modes with the edge held to the rim; the rim brings six
 * rigid motions (Craig and Bampton's scheme: K has no entries for them, M couples them to the modes); the hole its volume;
 * the cavity one pressure p = -kappa (sum of volumes) that all plate modes feel at once. Outside, the air on each plate is
 * that of an endless baffle, the hole's flow included. Inside, only the compliance acts: the near field between plates
 * and hole is neglected, and so are standing waves. Damping: see `CoupledSystem`.
 *
 * Modes: real shapes of the undamped problem, complex frequencies of the damped one (`dampedModes`). Crowns: modes plus
 * what they lack of the static compliance. Fails with the reasons of `coupledBasis`
 * and `coupledModes`, and with 'cancelled'.
 */
export function coupleBody(parts: BodyParts, ctx: Context): Outcome<BodyResponse> {
  const prepared = coupledBasis(parts);
  if (!prepared.ok) return prepared;
  const { system, crowns, saddle } = prepared.value;
  const { n } = system;
  ctx.progress(0.3);
  if (ctx.cancelled()) return failed("cancelled", "while coupling the body");
  const solved = coupledModes(system);
  if (!solved.ok) return solved;
  const undamped = solved.value;
  ctx.progress(0.6);
  if (ctx.cancelled()) return failed("cancelled", "while coupling the body");

  const { modes, damped } = inDampedOrder(undamped, dampedModes(modalSystem(system, undamped)));
  const { count, square, vectors, rigid } = modes;
  const flow = onEach(vectors, system.flow);
  const hole = onEach(vectors, unit(n, system.hole));
  const omega = Float64Array.from(damped.w, (v) => v.re);
  ctx.progress(0.8);

  const crownShape = crownMotions(vectors, crowns, n);
  const residual = crownResidual(parts, crowns, n);
  if (!residual.ok) return residual;
  keepStaticLimit(residual.value, crownShape, square, omega);
  const saddleShape = onEach(vectors, saddle);
  const motions = plateMotions(parts, system, vectors, rigid);
  const energyShare = kineticShares(system, modes);
  const partFlow = (from: number, to: number) =>
    onEach(
      vectors,
      system.flow.map((f, k) => (k >= from && k < to ? f : 0)),
    );
  const topFlow = partFlow(0, system.topCount);
  const backFlow = partFlow(system.topCount, system.topCount + system.backCount);
  const { air, hole: opening } = parts.cavity;
  const rigidWall = (inertance: number) => Math.sqrt(system.air.stiffness / inertance) / (2 * Math.PI);
  const highest = Math.min(parts.top.omega[parts.top.count - 1], parts.back.omega[parts.back.count - 1]);
  const modesToHz = Math.min(MODAL_LIMIT, (BASIS_TRUST * highest) / (2 * Math.PI));
  ctx.progress(1);
  return done(
    {
      count,
      frequency: omega.map((w) => w / (2 * Math.PI)),
      q: Float64Array.from(damped.w, (v) => v.re / (2 * v.im)),
      effectiveMass: Array.from(saddleShape, (s) => (s * s * MASS_LIMIT >= 1 ? 1 / (s * s) : null)),
      name: nameModes({ count, square, topFlow, backFlow, holeFlow: hole, energyShare }),
      strings: parts.crowns.map((c) => c.string),
      crownShape,
      saddleShape,
      rigidCount: system.rigidCount,
      rigidCrownShape: crownMotions(rigid, crowns, n),
      rigidSaddleShape: onEach(rigid, saddle),
      residual: residual.value,
      saddleResidual: meanNormal(residual.value, 3 * parts.crowns.length),
      netFlow: flow,
      holeFlow: hole,
      volumeVelocityShareByThird: motions.flowShare,
      holeFlowRatio: hole.map((h, i) => h * motions.signOverFlow[i]),
      pressurePerAcceleration: flow.map((v) => (air.density * v) / (4 * Math.PI)),
      energyShare,
      lossShare: damped.lossShare,
      motionByThird: motions.product,
      topMotion: motions.top,
      backMotion: motions.back,
      rigidWallAir: {
        frequency: rigidWall(opening.inertance),
        low: rigidWall(opening.inertanceRange[1]),
        high: rigidWall(opening.inertanceRange[0]),
      },
      validToHz: Math.min(LEVEL_LIMIT, modesToHz),
      modesToHz,
      air,
    },
    closeModes(damped, modesToHz),
  );
}

function modalSystem(system: CoupledSystem, modes: CoupledModes): ModalSystem {
  return {
    count: modes.count,
    square: modes.square,
    loss: modalLoss(system, modes),
    flow: onEach(modes.vectors, system.flow),
    hole: onEach(modes.vectors, unit(system.n, system.hole)),
    air: system.air,
  };
}

/** Damping may exchange close neighbours: both records put in ascending order of the damped frequency. */
function inDampedOrder(
  modes: CoupledModes,
  damped: DampedModes,
): { modes: CoupledModes; damped: DampedModes } {
  const order = damped.w.map((_, i) => i).sort((i, j) => damped.w[i].re - damped.w[j].re);
  const rows = (a: Float64Array) => {
    const width = a.length / order.length;
    const out = new Float64Array(a.length);
    order.forEach((from, to) => {
      out.set(a.subarray(from * width, (from + 1) * width), to * width);
    });
    return out;
  };
  return {
    modes: { ...modes, square: rows(modes.square), vectors: rows(modes.vectors) },
    damped: {
      w: order.map((i) => damped.w[i]),
      lossShare: rows(damped.lossShare),
      firstOrder: order.map((i) => damped.firstOrder[i]),
    },
  };
}

function closeModes(damped: DampedModes, toHz: number): Warning[] {
  return damped.w.flatMap(({ re }, i) => {
    const frequency = re / (2 * Math.PI);
    if (!damped.firstOrder[i] || frequency > toHz) return [];
    return [
      {
        code: "close-modes",
        detail: `the mode at ${frequency.toFixed(1)} Hz lies within its neighbour's width: its Q is a first approximation`,
      },
    ];
  });
}

/** count x C x 3. */
function crownMotions(vectors: Float64Array, crowns: Float64Array, n: number): Float64Array {
  const size = crowns.length / n;
  const out = new Float64Array((vectors.length / n) * size);
  for (let d = 0; d < size; d++) {
    onEach(vectors, crowns.subarray(d * n, d * n + n)).forEach((v, i) => {
      out[i * size + d] = v;
    });
  }
  return out;
}

/**
 * The listed frequency is the damped one; the static compliance is that of the undamped modes. The small difference goes
 * into the residual (in place), so that the sum over the listed modes still ends at the static solution.
 */
function keepStaticLimit(
  residual: Float64Array,
  shape: Float64Array,
  square: Float64Array,
  omega: Float64Array,
): void {
  const size = shape.length / square.length;
  for (let m = 0; m < square.length; m++) {
    const gap = 1 / square[m] - 1 / omega[m] ** 2;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++)
        residual[i * size + j] += gap * shape[m * size + i] * shape[m * size + j];
    }
  }
}

/** One newton shared evenly by the crowns' normals, mean of their motions. */
function meanNormal(residual: Float64Array, size: number): number {
  let sum = 0;
  for (let i = 0; i < size; i += 3) {
    for (let j = 0; j < size; j += 3) sum += residual[i * size + j];
  }
  return sum / (size / 3) ** 2;
}

function unit(n: number, at: number): Float64Array {
  const e = new Float64Array(n);
  e[at] = 1;
  return e;
}
