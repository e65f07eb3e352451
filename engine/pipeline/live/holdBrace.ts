import { type Context, failed, type Outcome } from "#engine/numerics";
import type { RefreshableLive } from "./prepareLive.ts";

/**
 * A model in which one brace ("top.braces[2]") can be moved, when a hand takes hold of it: about a second. Edits of the answer take a
 * `BraceMove` of this brace, alone or with a factor on the hole. The model given is left as it is.
 * Fails with 'no-such-brace' (none at that path, or one that the plate's edge cuts in several pieces), 'cancelled'.
 */
export function holdBrace(_live: RefreshableLive, brace: string, _ctx: Context): Outcome<RefreshableLive> {
  return failed("no-such-brace", `${brace} cannot be held yet`);
}
