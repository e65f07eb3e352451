/** How far up the board a hand gets before the body stops it. */
import type { BodyPlan } from "../plan.ts";
import type { Polygon } from "../polygon.ts";
import type { BoardLayout } from "./boardLayout.ts";

/** Fingers reach so far past the edge of a body without a cutaway: the customary "twelve frets are played to the fifteenth" (common practice, no source), m. */
const pastEdge = 0.05;
/** A board that stands higher lets the hand further in: so much per height, and no more than for so high (common practice, no source). */
const perHeight = 2;
const mostHeight = 0.01;
/** The thumb stays at the heel: no cutaway helps further than a hand spans from there (common practice, no source), m. */
const handSpan = 0.115;
/** The fingers pass the body between these distances from the board's treble edge, m. */
const passing = [0.012, 0.032] as const;

export interface HandReach {
  /** The highest fret whose whole crown on string 1 is within reach. */
  readonly fret: number;
  /** How far past the body's neck end the fingers get, m. */
  readonly pastBodyEnd: number;
  /** How far the free edge of the body lies behind its neck end beside the board, where the fingers pass, m. */
  readonly edgeSetBack: number;
  /** What stops the hand: the board's end, the span from the heel, or the body. */
  readonly limit: "board" | "heel" | "body";
}

/**
 * Rules of the trade, no source; good to about one fret. Plan and board in the body frame, right-handed, the strings'
 * treble side at y below 0. `boardHeight`: underside of the board over the top, m.
 */
export function handReach(plan: BodyPlan, board: BoardLayout, boardHeight: number): HandReach {
  const edgeSetBack = plan.length - edgeBeside(plan, board);
  const byBody = pastEdge + edgeSetBack + perHeight * Math.min(mostHeight, Math.max(0, boardHeight));
  const pastBodyEnd = Math.min(byBody, handSpan);
  const { nut, saddle, fretDistance, scaleLength } = board.strings[0];
  const limitStation = plan.length - pastBodyEnd;
  let fret = 0;
  for (let f = 1; f < fretDistance.length; f++) {
    const station = nut[0] + (fretDistance[f] / scaleLength) * (saddle[0] - nut[0]);
    if (station >= limitStation) fret = f;
  }
  const limit = fret === fretDistance.length - 1 ? "board" : byBody > handSpan ? "heel" : "body";
  return { fret, pastBodyEnd, edgeSetBack, limit };
}

/** Foremost station of the body's edge where the fingers pass, m from the tail. */
function edgeBeside(plan: BodyPlan, board: BoardLayout): number {
  const [[x0, y0], [x1, y1]] = board.trebleEdge;
  const share = (plan.length - x0) / (x1 - x0);
  const edge = y0 + share * (y1 - y0);
  let foremost = 0;
  const steps = 8;
  for (let k = 0; k <= steps; k++) {
    const y = edge - passing[0] - (k / steps) * (passing[1] - passing[0]);
    foremost = Math.max(foremost, foremostAt(plan.outlinePolygon, y));
  }
  return foremost;
}

function foremostAt(polygon: Polygon, y: number): number {
  let foremost = 0;
  const n = polygon.length / 2;
  for (let i = 0; i < n; i++) {
    const k = (i + 1) % n;
    const [ya, yb] = [polygon[2 * i + 1], polygon[2 * k + 1]];
    if (ya > y === yb > y) continue;
    const x = polygon[2 * i] + ((y - ya) / (yb - ya)) * (polygon[2 * k] - polygon[2 * i]);
    foremost = Math.max(foremost, x);
  }
  return foremost;
}
