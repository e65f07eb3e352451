/** The parts of a brace that lie on the plate. */
import { done, failed, type Outcome } from "#engine/numerics";
import { clipSegment } from "../crossings.ts";
import type { PlateRegion, Point } from "../polygon.ts";
import type { BracePath } from "./brace.ts";

/** One part of a brace on the plate: its ends, and where they lie along the brace as drawn (m from its `from`). */
export interface BracePiece {
  readonly from: Point;
  readonly to: Point;
  readonly start: number;
  readonly end: number;
  /** Does the plate's edge (or a hole's) cut the brace at this end? */
  readonly clipped: readonly [start: boolean, end: boolean];
}

/** Pieces shorter than this carry nothing and are left out, m. */
const leastPiece = 0.005;

/**
 * Clips a brace to the plate: pieces inside the outline and outside the holes, each drawn back by `inset` where the edge
 * clips it. Fails with 'brace-outside' when nothing is left, with 'brace-size' when the path has no length.
 */
export function clipBrace(plate: PlateRegion, brace: BracePath): Outcome<readonly BracePiece[]> {
  const { from, to, inset } = brace;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const told = `from (${from.map((v) => v.toFixed(4)).join(", ")}) to (${to.map((v) => v.toFixed(4)).join(", ")}) m`;
  if (!(length > 0 && Number.isFinite(length))) return failed("brace-size", `a brace ${told} has no length`);
  if (!(inset >= 0)) return failed("brace-size", `a brace stops ${inset} m short of the edge`);
  const at = (s: number): Point => [
    from[0] + (s / length) * (to[0] - from[0]),
    from[1] + (s / length) * (to[1] - from[1]),
  ];
  const pieces: BracePiece[] = [];
  for (const [first, last] of clipSegment(plate.outline, plate.holes, from, to)) {
    const clipped = [first > 1e-9 * length, last < (1 - 1e-9) * length] as const;
    const start = first + (clipped[0] ? inset : 0);
    const end = last - (clipped[1] ? inset : 0);
    if (end - start >= leastPiece) pieces.push({ from: at(start), to: at(end), start, end, clipped });
  }
  if (pieces.length === 0) return failed("brace-outside", `the brace ${told} does not lie on the plate`);
  return done(pieces);
}
