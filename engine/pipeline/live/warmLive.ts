import type { Context } from "#engine/numerics";
import { liveEdit } from "./liveEdit.ts";
import type { LiveModel } from "./liveModel.ts";

/** After so many edits no code of theirs is compiled anew any more (seen on Node 20). */
const edits = 20;

/**
 * Makes some edits and forgets them, for whoever will answer a hand: an engine that compiles code as it comes to be used takes several
 * times as long for the first ones. One to two seconds of processor time.
 */
export function warmLive(model: LiveModel, ctx: Context): void {
  const known = model.limits.find(({ id }) => model.reduced.terms.some((t) => t.parameter === id));
  if (known === undefined) return;
  for (let i = 0; i < edits && !ctx.cancelled(); i++)
    liveEdit(model, [{ parameter: known.id, factor: 1 + (0.5 * (i + 1) * (known.high - 1)) / edits }], {
      ...ctx,
      progress: () => {},
    });
}
