/** The fairest closed curve through given places: least change of curvature, or least bending. */
import { done, failed, luSolve, type Outcome } from "#engine/numerics";
import type { PlaneCurve } from "./curve.ts";
import {
  type FairLayout,
  type FairMeasure,
  type FairPlace,
  type FairState,
  headingAfter,
  newtonSystem,
  pieces,
  segmentOf,
} from "./fairNewton.ts";
import { chainCurve, type SpiralSegment } from "./spiralChain.ts";

export type { FairMeasure, FairPlace } from "./fairNewton.ts";

/**
 * The fairest closed curve through the places in their order, anticlockwise. `guess` gives a rough heading at each
 * place (used where none is imposed, and to start from); the headings must rise by 2 pi in all once round.
 * Newton steps on the curvature nodes (12 pieces a segment), the segment lengths and the free headings, with the
 * places as constraints met to 1e-12 of the size. Fails with 'no-fair-curve' if the steps do not settle.
 */
export function fairCurve(
  places: readonly FairPlace[],
  guess: readonly number[],
  measure: FairMeasure,
): Outcome<PlaneCurve> {
  const settled = settledCurve(places, guess, measure, null);
  return settled.ok ? done(settled.value.curve) : settled;
}

/** Where the steps came to rest: a start for the same places moved a little. */
export interface FairRest {
  readonly size: number;
  readonly state: FairState;
}

/**
 * The same, begun where `before` came to rest and settled to a hundred millionth of its size, which takes half the steps; from
 * the start where that does not settle.
 */
export function settledCurve(
  places: readonly FairPlace[],
  guess: readonly number[],
  measure: FairMeasure,
  before: FairRest | null,
): Outcome<{ readonly curve: PlaneCurve; readonly rest: FairRest }> {
  // Solved in units of a mean segment, so that curvatures, lengths and headings are all of order one.
  const size = places.reduce((sum, place, i) => {
    const next = places[(i + 1) % places.length].point;
    return sum + Math.hypot(next[0] - place.point[0], next[1] - place.point[1]) / places.length;
  }, 0);
  const unit = places.map((place) => scaledPlace(place, 1 / size));
  const layout = layoutOf(unit);
  const known = before !== null && before.state.length.length === places.length ? before : null;
  if (known !== null) {
    const near = stepped(unit, layout, measure, restart(unit, known, size), nearly);
    if (near.ok) return done(rested(unit, near.value, size));
  }
  const settled = stepped(unit, layout, measure, firstState(unit, guess), wholly);
  return settled.ok ? done(rested(unit, settled.value, size)) : settled;
}

/** The first steps leave out how the constraints bend: their multipliers are not worth anything yet, and it is costly. */
const wholly = { blind: 6, most: 100, rest: 1e-10 };
const nearly = { blind: 8, most: 8, rest: 1e-8 };

function stepped(
  unit: readonly FairPlace[],
  layout: FairLayout,
  measure: FairMeasure,
  from: FairState,
  { blind, most, rest }: typeof wholly,
): Outcome<FairState> {
  let state = from;
  const multipliers = new Float64Array(3 * unit.length);
  let last = Number.POSITIVE_INFINITY;
  for (let step = 0; step < most; step++) {
    const known = step < blind ? new Float64Array(multipliers.length) : multipliers;
    const system = newtonSystem(unit, state, layout, measure, known);
    const solved = luSolve(system.matrix, system.n, system.right);
    if (!solved.ok)
      return failed("no-fair-curve", `the places leave the curve undetermined (${solved.detail})`);
    const move = solved.value;
    const turn = biggestTurn(move, layout, state);
    const factor = Math.min(1, 0.6 / turn);
    state = movedState(state, layout, move, factor);
    for (let c = 0; c < multipliers.length; c++) {
      multipliers[c] += factor * (move[layout.pull[c]] - multipliers[c]);
    }
    if (!state.length.every((length) => length > 0 && length < 50)) break;
    last = turn + system.gap;
    if (last < rest) return done(state);
  }
  return failed(
    "no-fair-curve",
    `the fair curve through these places does not settle (last step ${last.toExponential(1)})`,
  );
}

function rested(
  unit: readonly FairPlace[],
  state: FairState,
  size: number,
): { readonly curve: PlaneCurve; readonly rest: FairRest } {
  const curve = scaledCurve(chainCurve(chainOf(unit, state), true), size);
  return { curve, rest: { size, state } };
}

/** What came to rest, in the units of the places as they are now; what they impose is theirs. */
function restart(unit: readonly FairPlace[], { size: before, state }: FairRest, size: number): FairState {
  const factor = size / before;
  return {
    curvature: state.curvature.map(
      (k, i) => (i % pieces === 0 ? unit[i / pieces].curvature : null) ?? k * factor,
    ),
    length: state.length.map((length) => length / factor),
    heading: state.heading.map((heading, j) => {
      const given = unit[j].heading;
      return given === null ? heading : given + 2 * Math.PI * Math.round((heading - given) / (2 * Math.PI));
    }),
  };
}

function scaledPlace(place: FairPlace, factor: number): FairPlace {
  return {
    point: [place.point[0] * factor, place.point[1] * factor],
    heading: place.heading,
    curvature: place.curvature === null ? null : place.curvature / factor,
  };
}

function scaledCurve(curve: PlaneCurve, factor: number): PlaneCurve {
  return {
    closed: curve.closed,
    knots: curve.knots.map((t) => t * factor),
    points: curve.points.map((x) => x * factor),
    tangents: curve.tangents,
    seconds: curve.seconds.map((x) => x / factor),
  };
}

function layoutOf(places: readonly FairPlace[]): FairLayout {
  let count = 0;
  const n = places.length;
  const curvature = new Int32Array(n * pieces);
  const length = new Int32Array(n);
  const heading = new Int32Array(n);
  const pull = new Int32Array(3 * n);
  for (const [j, place] of places.entries()) {
    for (let i = 0; i < pieces; i++)
      curvature[j * pieces + i] = i === 0 && place.curvature !== null ? -1 : count++;
    length[j] = count++;
    for (let r = 0; r < 3; r++) pull[3 * j + r] = count++;
    heading[j] = place.heading === null ? count++ : -1;
  }
  return { count, curvature, length, heading, pull };
}

/** Start: each segment an even mixture of its chord and the turn from heading to heading. */
function firstState(places: readonly FairPlace[], guess: readonly number[]): FairState {
  const n = places.length;
  const heading = Float64Array.from(places, (place, i) => place.heading ?? guess[i]);
  const length = new Float64Array(n);
  const curvature = new Float64Array(n * pieces);
  for (let j = 0; j < n; j++) {
    const a = places[j].point;
    const b = places[(j + 1) % n].point;
    const turn = headingAfter(heading, j) - heading[j];
    const chord = Math.hypot(b[0] - a[0], b[1] - a[1]);
    length[j] = chord * (1 + (turn * turn) / 24 + 0.02);
    for (let i = 0; i < pieces; i++)
      curvature[j * pieces + i] =
        places[j].curvature !== null && i === 0 ? places[j].curvature! : turn / length[j];
  }
  return { curvature, length, heading };
}

function chainOf(places: readonly FairPlace[], state: FairState): SpiralSegment[] {
  return places.map((_, j) => segmentOf(places, state, j));
}

/** The largest turn, in rad, that a Newton step makes anywhere; length changes count relative to their length. */
function biggestTurn(move: Float64Array, layout: FairLayout, state: FairState): number {
  let most = 0;
  for (let j = 0; j < state.length.length; j++) {
    const span = state.length[j];
    most = Math.max(most, Math.abs(move[layout.length[j]]) / span);
    if (layout.heading[j] >= 0) most = Math.max(most, Math.abs(move[layout.heading[j]]));
    let turned = 0;
    for (let i = 0; i < pieces; i++) {
      const at = layout.curvature[j * pieces + i];
      turned += at < 0 ? 0 : (move[at] * span) / pieces;
      most = Math.max(most, Math.abs(turned));
    }
  }
  return most;
}

function movedState(state: FairState, layout: FairLayout, move: Float64Array, factor: number): FairState {
  const shifted = (values: Float64Array, places: Int32Array): Float64Array =>
    values.map((value, i) => (places[i] < 0 ? value : value + factor * move[places[i]]));
  return {
    curvature: shifted(state.curvature, layout.curvature),
    length: shifted(state.length, layout.length),
    heading: shifted(state.heading, layout.heading),
  };
}
