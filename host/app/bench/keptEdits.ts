import type { BenchState, InstrumentState, Preferences } from "#host/api";
import type { StrandedEdit } from "./benchTypes.ts";

/** A change that the server has not acknowledged, as this browser keeps it. */
export interface KeptEdit {
  /** Made by the page; the server does the same id once. */
  readonly id: string;
  /** Whose outbox it lies in. */
  readonly page: string;
  readonly instrument: string;
  readonly kind: "edit" | "undo" | "redo" | "restore";
  /** Revision it came on top of; null while the change it came on top of has none yet (see `after`). */
  readonly basis: number | null;
  /** The kept change that must be acknowledged first. */
  readonly after: string | null;
  /** The whole document as it will be; null for an undo or redo of which nobody here knows what it brings back. */
  readonly text: string | null;
  readonly cause: string;
  /** ISO 8601, UTC. */
  readonly at: string;
  /** Of a restore. */
  readonly revision: number | null;
}

/** What this browser keeps of the bench, and over which reloads and closed pages. Every write is on the disk when it resolves. */
export interface BrowserStore {
  add(edit: KeptEdit): Promise<void>;
  /** All kept changes of all pages, oldest first. */
  list(): Promise<readonly KeptEdit[]>;
  /** In one step: takes out one change and puts others in the place of themselves. */
  settle(
    gone: readonly string[],
    changed: readonly KeptEdit[],
    stranded?: readonly StrandedEdit[],
  ): Promise<void>;
  /** Hands all changes of one page to another. */
  adopt(from: string, to: string): Promise<void>;
  stranded(): Promise<readonly StrandedEdit[]>;
  letGo(strandedId: string): Promise<void>;
  /** Newest acknowledged state of an instrument that was open here. */
  seen(instrument: string): Promise<InstrumentState | null>;
  see(state: InstrumentState): Promise<void>;
  frame(): Promise<SeenFrame | null>;
  seeFrame(frame: SeenFrame): Promise<void>;
}

/** The page's frame as last seen, and preferences that the server does not have yet. */
export interface SeenFrame {
  readonly bench: BenchState | null;
  readonly unsentPreferences: Preferences | null;
}
