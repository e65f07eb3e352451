import type { ModeName, NameRival } from "./bodyResponse.ts";

/** What a name is given by: motion alone. All by mode of the coupled body, mass-normalised. */
export interface StructureMotion {
  readonly count: number;
  /** omega^2. */
  readonly square: Float64Array;
  /** Volumes swept outward by top and back, and through the opening. */
  readonly topFlow: Float64Array;
  readonly backFlow: Float64Array;
  readonly holeFlow: Float64Array;
  /** count x 5 [top, back, sides, neck, air]: kinetic energy shares; what is left is motion as a whole. */
  readonly share: Float64Array;
  /** count: of the air in the opening alone. */
  readonly openingShare: Float64Array;
  /** count x cavity modes: kinetic energy share of each y_n (0 for the even pressure). */
  readonly cavityShare: Float64Array;
  /** Cavity modes x 2: see `CavityAir.slope`. */
  readonly slope: Float64Array;
  /** count x 3: square of the nut's motion up and down, sideways, and of its turning times half the neck's width. */
  readonly nut: Float64Array;
}

/** A name, and how near another mode came to having it. */
export interface NamedModes {
  readonly name: readonly ModeName[];
  /**
   * By mode: for a named mode, the mode that came next for the same name and its score over the winner's; near 1 the two share
   * the character, and which of them has the name is decided by little. null without a name or a rival.
   */
  readonly rival: readonly (NameRival | null)[];
}

/** Least share of the energy for a name of the neck; what has it there or in one cavity mode is neither the top's nor the back's. */
const HOME = 0.5;
/** Least share of the energy in one cavity mode for its name. */
const CAVITY = 1 / 3;
/** A cavity mode is lengthwise or across when so much of its pressure is a slope that way. */
const SLOPE = 0.6;

/**
 * Names by motion. With the plates pressed in, air leaves by the hole.
 * - main air: of the modes in which the hole breathes against the plates (flows of opposite signs, the hole's the larger),
 *   the one with the most of its energy in the opening's air.
 * - main top and main back: two modes chosen together so that the sum of the top's score in the one and the back's in the
 *   other is greatest. Score = share x breathing^2. The share is (flow of the plate / omega^2)^2 over its sum over all
 *   modes: what the mode has of the shape the plate takes under a steady pressure. breathing = (plate + net)^2 / 2 (plate^2 +
 *   net^2), net the flow of both plates, turned round where the hole breathes against it: no name hangs on the sign of a
 *   flow that is nearly nothing.
 * - neck: half of the energy in neck and head, by how the nut moves; of several the one with the most of what a steady force at
 *   the nut bends. cavity: the one with the most of its energy in one cavity mode, a third at least.
 * Scores decide, never frequency; equal scores go to the lower mode. A name for which no mode qualifies is not given.
 */
export function nameStructureModes(m: StructureMotion): NamedModes {
  const { count, square, topFlow, backFlow, holeFlow, share } = m;
  const name: ModeName[] = new Array<ModeName>(count).fill(null);
  const rival: (NameRival | null)[] = new Array<NameRival | null>(count).fill(null);
  const modes = Array.from({ length: count }, (_, i) => i);
  const give = (what: Exclude<ModeName, null>, among: readonly number[], score: (i: number) => number) => {
    const best = largest(among, score);
    if (best === null) return null;
    name[best] = what;
    const next = largest(
      among.filter((i) => i !== best && name[i] === null),
      score,
    );
    rival[best] = next === null ? null : { index: next, ratio: score(next) / score(best) };
    return best;
  };
  const plates = (i: number) => topFlow[i] + backFlow[i];
  const air = give(
    "main air",
    modes.filter((i) => holeFlow[i] * plates(i) <= 0 && Math.abs(holeFlow[i]) > Math.abs(plates(i))),
    (i) => m.openingShare[i],
  );

  const most = modes.map((i) => cavityMost(m, i));
  // A mode of the neck or of the cavity itself is not the top's or the back's.
  const neckOrAir = (i: number) => share[5 * i + 3] > HOME || most[i].share > HOME;
  const others = modes.filter((i) => i !== air && !neckOrAir(i));
  const net = holeFlow.map((h, i) => (h * plates(i) < 0 ? -plates(i) : plates(i)));
  const ofTop = plateScore(topFlow, net, square);
  const ofBack = plateScore(backFlow, net, square);
  const best = (not: number | null, score: (i: number) => number) => largest(others, score, not);
  const top = largest(
    others.filter((i) => ofTop(i) > 0),
    (i) => {
      const back = best(i, ofBack);
      return ofTop(i) + (back === null ? 0 : ofBack(back));
    },
  );
  const back = best(top, ofBack);
  if (top !== null) {
    name[top] = "main top";
    rival[top] = rivalOf(top, best(top, ofTop), ofTop);
  }
  if (back !== null) {
    name[back] = "main back";
    rival[back] = rivalOf(back, best(back, ofBack), ofBack);
  }

  const free = () => modes.filter((i) => name[i] === null);
  const neck = (kind: number) => free().filter((i) => share[5 * i + 3] > HOME && nutKind(m, i) === kind);
  const ofNeck = (i: number) => (share[5 * i + 3] * m.nut[3 * i + nutKind(m, i)]) / square[i] ** 2;
  give("neck, up and down", neck(0), ofNeck);
  give("neck, sideways", neck(1), ofNeck);
  give("neck, twisting", neck(2), ofNeck);
  const cavity = (axis: number) =>
    free().filter((i) => most[i].share > CAVITY && cavityAxis(m.slope, most[i].n) === axis);
  const ofCavity = (i: number) => most[i].share;
  give("cavity, lengthwise", cavity(0), ofCavity);
  give("cavity, across", cavity(1), ofCavity);
  give("cavity", cavity(2), ofCavity);
  return { name, rival };
}

function rivalOf(winner: number, next: number | null, score: (i: number) => number): NameRival | null {
  return next === null || score(winner) === 0 ? null : { index: next, ratio: score(next) / score(winner) };
}

function cavityMost(m: StructureMotion, i: number): { n: number; share: number } {
  const width = m.cavityShare.length / m.count;
  let [n, share] = [0, 0];
  for (let k = 0; k < width; k++) {
    if (m.cavityShare[i * width + k] > share) {
      n = k;
      share = m.cavityShare[i * width + k];
    }
  }
  return { n, share };
}

/** 0 lengthwise, 1 across, 2 neither. */
function cavityAxis(slope: Float64Array, n: number): number {
  if (slope[2 * n] > SLOPE) return 0;
  return slope[2 * n + 1] > SLOPE ? 1 : 2;
}

function nutKind(m: StructureMotion, i: number): number {
  const [up, side, turn] = m.nut.subarray(3 * i, 3 * i + 3);
  if (up >= side && up >= turn) return 0;
  return side >= turn ? 1 : 2;
}

/** Share of a plate's shape under steady pressure times the square of its breathing with the net flow, by mode. */
function plateScore(flow: Float64Array, net: Float64Array, square: Float64Array): (i: number) => number {
  const give = flow.map((f, i) => (f / square[i]) ** 2);
  const sum = give.reduce((total, g) => total + g, 0);
  return (i) => {
    if (give[i] === 0) return 0;
    const breathing = (flow[i] + net[i]) ** 2 / (2 * (flow[i] ** 2 + net[i] ** 2));
    return (give[i] / sum) * breathing ** 2;
  };
}

/** The mode but one with the largest score, the lower of equals, or null if none is above 0. */
function largest(
  modes: readonly number[],
  score: (i: number) => number,
  not: number | null = null,
): number | null {
  let best: number | null = null;
  let most = 0;
  for (const i of modes) {
    if (i === not) continue;
    const s = score(i);
    if (s > most) {
      most = s;
      best = i;
    }
  }
  return best;
}
