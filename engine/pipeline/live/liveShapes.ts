import { type Context, done, type Outcome } from "#engine/numerics";
import { solveCoupling } from "#engine/response";
import type { LiveChange, LiveModel, PlateLift } from "./liveModel.ts";
import { livePlace } from "./livePlace.ts";
import { movedCoupling } from "./movedCoupling.ts";

/** How the plates move in the lowest coupled modes. */
export interface PlateMotion {
  readonly count: number;
  /** count x nodes of the voice's mesh: outward motion of the undamped modes; one scale for both plates of a mode. */
  readonly top: Float64Array;
  readonly back: Float64Array;
}

/**
 * The shapes behind `liveEdit`'s modes, in their order (24 at most), for whoever draws them: the coupled equations are solved again, about half
 * of what an edit costs. Fails as `liveEdit` does.
 */
export function liveShapes(model: LiveModel, change: LiveChange, ctx: Context): Outcome<PlateMotion> {
  const place = livePlace(model, change, ctx);
  if (!place.ok) return place;
  const moved = movedCoupling(model, place.value);
  if (!moved.ok) return moved;
  const { parts, coupling, columns } = moved.value;
  const { top, back } = activeLift(model.lift, columns, model.parts.body.rigidCount + model.parts.body.count);
  const drawn = { ...coupling, top: { ...coupling.top, lift: top }, backLift: back };
  const response = solveCoupling(parts, drawn, ctx);
  if (!response.ok) return response;
  const { drawnCount, topMotion, backMotion } = response.value;
  return done({ count: drawnCount, top: topMotion, back: backMotion });
}

function activeLift(lift: PlateLift, columns: Uint32Array, all: number): PlateLift {
  const rows = (from: Float64Array): Float64Array => {
    const nodes = from.length / all;
    const out = new Float64Array(columns.length * nodes);
    for (const [i, column] of columns.entries())
      out.set(from.subarray(column * nodes, (column + 1) * nodes), i * nodes);
    return out;
  };
  return { top: rows(lift.top), back: rows(lift.back) };
}
