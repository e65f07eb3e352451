/** A factor all of whose fronts are kept with their updates, so that a local change costs only what it touches. */
import type { Kernels } from "../kernels/kernels.ts";
import { type Context, done, failed, type Outcome } from "../outcome.ts";
import { type FactorInput, factorFront, fillFront, refused } from "./factorInto.ts";
import type { FactorRoom } from "./factorRoom.ts";

/** Working state that refactor changes IN PLACE: not to be shared between two users. */
export interface LiveFactor {
  readonly room: FactorRoom;
  /** Place of the update matrices, all of them. */
  readonly updates: number;
  readonly children: readonly (readonly number[])[];
  /** 1 for each supernode whose front is not what the matrix says. */
  readonly stale: Uint8Array;
}

/** updates: place of sizes.updateStart's whole length in the kernels' memory. Everything is stale at first. */
export function liveFactor(room: FactorRoom, updates: number): LiveFactor {
  const { count, parent } = room.partition;
  const children: number[][] = Array.from({ length: count }, () => []);
  parent.forEach((p, s) => {
    if (p >= 0) children[p].push(s);
  });
  return { room, updates, children, stale: new Uint8Array(count).fill(1) };
}

/**
 * Brings the stale fronts, and those on their way to the root, up to date with the (definite) matrix; returns how many
 * these were. Cancelled or refused half-way it leaves them stale. Failures: 'not-positive-definite', 'cancelled'.
 */
export function refactor(
  live: LiveFactor,
  input: FactorInput,
  pivotFloor: number,
  context: Context,
): Outcome<number> {
  const { room, stale } = live;
  const { count, parent } = room.partition;
  let worked = 0;
  for (let s = 0; s < count; s++) if (stale[s] === 1 && parent[s] >= 0) stale[parent[s]] = 1;
  for (let s = 0; s < count; s++) {
    if (stale[s] === 0) continue;
    if (worked++ % 64 === 0 && context.cancelled())
      return failed("cancelled", `in supernode ${s} of ${count} of the factorisation`);
    const bad = renewFront(live, input, s, pivotFloor);
    if (bad >= 0) return refused(room, bad, true);
    stale[s] = 0;
  }
  return done(worked);
}

function renewFront(live: LiveFactor, input: FactorInput, s: number, pivotFloor: number): number {
  const { room, updates, children } = live;
  const { partition, sizes, values, floors, pivots, scratch, target } = room;
  const { columnStart, rowStart, rowCount } = partition;
  const { numbers, fronts }: Kernels = room.kernels;
  const first = columnStart[s];
  const w = columnStart[s + 1] - first;
  const strips = (rowStart[s + 1] - rowStart[s]) >> 2;
  const front = values + sizes.valueStart[s];
  const update = updates + sizes.updateStart[s];
  numbers.fill(0, front, values + sizes.valueStart[s + 1]);
  const leaf = children[s].length === 0;
  if (!leaf) numbers.fill(0, update, updates + sizes.updateStart[s + 1]);
  numbers.fill(0, floors + first, floors + first + w);
  fillFront(room, input, s, pivotFloor);
  for (const c of children[s])
    fronts.extendAdd(updates + sizes.updateStart[c], rowCount[c], target + rowStart[c], front, w, update);
  const bad = factorFront(room, s, true);
  if (bad >= 0) return first + bad;
  if (strips > 0) fronts.update(front + w * w, w, strips, pivots + first, update, scratch, leaf);
  return -1;
}
