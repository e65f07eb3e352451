/** A fault in the maker's data as the engine tells it, and any other refusal of the server: in place, found, allowed. */
export interface Refusal {
  readonly code: string;
  readonly message: string;
  /** Faults of a refused document, each with its place. */
  readonly issues?: readonly RefusedPlace[];
}

export interface RefusedPlace {
  readonly code: string;
  readonly path: string;
  readonly message: string;
  readonly found?: string;
  readonly allowed?: string;
  readonly example?: string;
  readonly remedy?: string;
}

/** A line of the list of instruments. */
export interface InstrumentCard {
  readonly id: string;
  /** The document's own name. */
  readonly name: string;
  readonly revision: number;
  /** ISO 8601, UTC. */
  readonly made: string;
  readonly changed: string;
  readonly away: boolean;
}

/** An instrument as it stands. */
export interface InstrumentState {
  readonly id: string;
  readonly name: string;
  /** Of the newest revision; every change, undo and redo adds one. */
  readonly revision: number;
  readonly text: string;
  /** What undo would take back and redo would bring again, in words; null: nothing. */
  readonly undo: string | null;
  readonly redo: string | null;
  readonly keepsakes: readonly Keepsake[];
  /** States set aside because another page was first, newest first. */
  readonly aside: readonly SetAside[];
  readonly attachments: readonly Attachment[];
}

export interface Keepsake {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  readonly at: string;
}

/** An edit that came on top of an older revision than the newest: kept, but not current. */
export interface SetAside {
  readonly revision: number;
  readonly basis: number;
  readonly cause: string;
  readonly at: string;
}

export interface Attachment {
  readonly id: string;
  readonly name: string;
  readonly mediaType: string;
  readonly bytes: number;
  /** SHA-256 (FIPS 180-4), hexadecimal. */
  readonly sha256: string;
  readonly at: string;
}

/** A line of the history, newest first. */
export interface RevisionLine {
  readonly revision: number;
  readonly at: string;
  readonly kind: "made" | "edit" | "undo" | "redo" | "restore" | "aside";
  readonly cause: string;
}

/** What an accepted change answers: the page has the text already, unless it was an undo, a redo or a restore. */
export interface Saved {
  readonly revision: number;
  readonly undo: string | null;
  readonly redo: string | null;
  /** Given where the page cannot know it. */
  readonly text?: string;
}

/** Status 409: another page was first. Both are kept: `current` stands, `aside` holds what was sent. */
export interface Conflict {
  readonly code: "conflict";
  readonly message: string;
  readonly current: InstrumentState;
  /** Null where nothing was written that could be lost: an undo, a redo, a restore. */
  readonly aside: SetAside | null;
}

export interface Backup {
  readonly name: string;
  readonly at: string;
  readonly bytes: number;
  /** Whether it was restored into a scratch database and found equal to its source when it was made. */
  readonly tested: boolean;
}

/** What the page asks first. */
export interface BenchState {
  readonly version: string;
  readonly instruments: readonly InstrumentCard[];
  readonly examples: readonly { readonly file: string; readonly name: string; readonly about: string }[];
  readonly preferences: { readonly units: "metric" | "inch"; readonly light: "day" | "night" | "system" };
  /** What the maker should know of the store now: a full disk, a failed backup. */
  readonly notices: readonly string[];
}

/** Server-sent events on `/api/events`: what another page did. */
export type BenchEvent =
  | { readonly kind: "changed"; readonly instrument: string; readonly revision: number; readonly by: string }
  | { readonly kind: "list" }
  | { readonly kind: "notice"; readonly words: string };
