import type { DeskDeeds } from "./deskTypes.ts";
import type { HandDuties } from "./handDuties.ts";
import type { HeavyDuties } from "./heavyDuties.ts";
import type { LightDuties } from "./lightDuties.ts";
import { type Line, line } from "./line.ts";
import { makeDesk } from "./makeDesk.ts";
import { useDesk } from "./useDesk.ts";
import type { Duties } from "./wire.ts";

/** What needs no finite elements comes in a file of its own, so that the first sight of an instrument does not wait for them. */
function lightLine(): Line<LightDuties> {
  const worker = new Worker(new URL("./lightWorker.ts", import.meta.url), {
    type: "module",
    name: "desk-light",
  });
  return line<LightDuties>(worker, crossOriginIsolated);
}

/** Every other worker of the desk begins at the same file; its name says what it is there for. */
function hired<D extends Duties>(name: string): Line<D> {
  const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module", name });
  return line<D>(worker, crossOriginIsolated);
}

/** What the page may have the engine do. Nothing is hired before the first deed. */
export const deskDeeds: DeskDeeds = makeDesk(
  {
    light: lightLine,
    heavy: () => hired<HeavyDuties>("desk-heavy"),
    hand: () => hired<HandDuties>("desk-hand"),
  },
  { get: useDesk.getState, set: (change) => useDesk.setState(change) },
);
