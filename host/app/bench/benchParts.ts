import type { StoreApi } from "zustand/vanilla";
import type { RefusedPlace } from "#host/api";
import type { Bench, EditAnswer } from "./benchTypes.ts";
import type { BrowserStore } from "./keptEdits.ts";
import type { BenchClock } from "./outbox.ts";
import type { Said, ServerTalk } from "./serverTalk.ts";

/** What the bench is put together from; a test brings its own. */
export interface BenchParts {
  readonly store: StoreApi<Bench>;
  readonly talk: ServerTalk;
  readonly browser: BrowserStore;
  /** Whether a document may be so: the engine's word, from its own thread. */
  readonly check: (text: string) => Promise<EditAnswer>;
  readonly clock: BenchClock;
  /** A fresh UUID. */
  readonly newId: () => string;
  /** This page's own id. */
  readonly page: string;
}

export const emptyBench: Bench = {
  connection: "joined",
  unsent: 0,
  list: null,
  examples: [],
  notices: [],
  preferences: { units: "metric", light: "system" },
  open: null,
  stranded: [],
  conflict: null,
};

export const accepted: EditAnswer = { ok: true };

/** A refusal of the page itself. */
export function refusedHere(code: string, message: string, remedy?: string): EditAnswer & { ok: false } {
  const issue: RefusedPlace = { code, path: "", message, ...(remedy === undefined ? {} : { remedy }) };
  return { ok: false, issues: [issue] };
}

/** An answer of the server that is not the one hoped for. */
export function refusedBy(said: Exclude<Said<unknown>, { is: "done" }>): EditAnswer & { ok: false } {
  if (said.is === "lost")
    return refusedHere(
      "server-lost",
      said.words ?? "The server does not answer.",
      "Try again when the page says that it is joined again.",
    );
  if (said.is === "conflict") return refusedHere("conflict", said.conflict.message);
  const { code, message, issues } = said.refusal;
  return issues === undefined || issues.length === 0 ? refusedHere(code, message) : { ok: false, issues };
}
