import type { Build } from "#engine/instrument";
import { brent, done, type Outcome } from "#engine/numerics";
import { type BentNeck, type NeckBeam, neckBending, reliefOver } from "#engine/shells";
import { type NeckModel, rodAction, rodStrength, rodTendon } from "./neckModel.ts";

/** The neck under its strings at one setting of its rod. */
export interface NeckState {
  /** Force in the adjustable rod, N; 0 slack, below 0 turned the other way. */
  readonly force: number;
  /** m, hollow above 0. */
  readonly relief: number;
  readonly bent: BentNeck;
}

export interface NeckReliefs {
  readonly slack: NeckState;
  /** At the force that the document states; null where it states none. */
  readonly stated: NeckState | null;
  /** Where the rod gives the relief wanted; null without a rod or out of its reach. */
  readonly wanted: NeckState | null;
  /** Rod turned as far as half its strength, and let go (a double-acting one: as far the other way). */
  readonly tightest: NeckState;
  readonly loosest: NeckState;
  /** N; null without an adjustable rod. */
  readonly workingForce: number | null;
  readonly withoutBars: NeckState | null;
}

/** Share of its strength that a rod is turned to at the most (common practice, no source). */
const workingShare = 0.5;

/** The neck with every adjustable rod at one force; null: each as the document states it. Fails with 'neck-buckles'. */
export function neckState(
  build: Build,
  model: NeckModel,
  force: number | null,
  beam: NeckBeam = model.beam,
): Outcome<NeckState> {
  const rods = build.neck.rods.filter((rod) => rod.kind === "adjustable");
  const tendons = rods.map((rod) => rodTendon(build, model.length, rod, force ?? rod.tension ?? 0));
  const bent = neckBending(beam, model.pulls, tendons);
  if (!bent.ok) return bent;
  const most = force ?? rods.reduce((sum, rod) => Math.max(sum, rod.tension ?? 0), 0);
  return done({ force: most, relief: reliefOf(model, bent.value), bent: bent.value });
}

/** Reliefs that strings and rod make of a neck that was straight without them. Fails with 'neck-buckles'. */
export function neckReliefs(build: Build, model: NeckModel): Outcome<NeckReliefs> {
  const rods = build.neck.rods.filter((rod) => rod.kind === "adjustable");
  const state = (force: number | null, beam?: NeckBeam): Outcome<NeckState> =>
    neckState(build, model, force, beam);
  const slack = state(0);
  if (!slack.ok) return slack;
  const bare = model.withoutBars === null ? null : state(0, model.withoutBars);
  if (bare !== null && !bare.ok) return bare;
  const withoutBars = bare?.value ?? null;
  if (rods.length === 0) {
    const only = slack.value;
    return done({
      slack: only,
      stated: null,
      wanted: null,
      tightest: only,
      loosest: only,
      workingForce: null,
      withoutBars,
    });
  }
  const workingForce = workingShare * Math.min(...rods.map(rodStrength));
  const back = rods.every((rod) => rodAction(rod) === "double") ? -workingForce : 0;
  const ends = [state(workingForce), state(back)];
  const stated = rods.some((rod) => rod.tension !== null) ? state(null) : null;
  if (stated !== null && !stated.ok) return stated;
  if (!ends[0]!.ok) return ends[0]!;
  if (!ends[1]!.ok) return ends[1]!;
  const [tightest, loosest] = [ends[0]!.value, ends[1]!.value];
  const gap = (force: number): number => {
    const at = state(force);
    return at.ok ? at.value.relief - build.neck.relief : Number.NaN;
  };
  const root = brent(gap, back, workingForce, 0.01);
  const wanted = root.ok ? state(root.value) : null;
  return done({
    slack: slack.value,
    stated: stated?.value ?? null,
    wanted: wanted?.ok ? wanted.value : null,
    tightest,
    loosest,
    workingForce,
    withoutBars,
  });
}

function reliefOf({ fretX, straightedge }: NeckModel, bent: BentNeck): number {
  const { fromFret, toFret } = straightedge;
  return reliefOver(bent.x, bent.rise, Math.max(0, fretX[toFret]!), fretX[fromFret]!);
}
