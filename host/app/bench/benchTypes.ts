import type {
  Attachment,
  Conflict,
  InstrumentCard,
  Keepsake,
  Preferences,
  RefusedPlace,
  RevisionLine,
  BenchState as ServerState,
  SetAside,
} from "#host/api";

/** JSON as a document holds it. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** A field of the document and what it shall be; undefined takes it out. Paths as issues name them: "top.braces[2].height". */
export interface FieldChange {
  readonly path: string;
  readonly value: Json | undefined;
}

/** The instrument on the bench, as the page has it in hand: its edits are in here before the server has them. */
export interface OpenInstrument {
  readonly id: string;
  readonly name: string;
  /** Newest revision that the server has acknowledged. */
  readonly revision: number;
  readonly text: string;
  /** The same, parsed. */
  readonly document: { readonly [key: string]: Json };
  /** What undo would take back, in words; null: nothing. */
  readonly undo: string | null;
  readonly redo: string | null;
  readonly keepsakes: readonly Keepsake[];
  readonly aside: readonly SetAside[];
  readonly attachments: readonly Attachment[];
}

export type EditAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly issues: readonly RefusedPlace[] };

/** An edit that the server would not take (a newer page or server, say): kept in this browser until the maker lets it go. */
export interface StrandedEdit {
  readonly id: string;
  readonly instrument: string;
  readonly cause: string;
  /** When it was made, ISO 8601, UTC. */
  readonly at: string;
  /** The whole document as the edit would have it. */
  readonly text: string;
  readonly message: string;
}

/** joined: all is with the server; sending: some edits are under way; lost: the server does not answer, edits are kept here. */
export type Connection = "joined" | "sending" | "lost";

export interface Bench {
  readonly connection: Connection;
  /** Edits that the server has not acknowledged; they outlive a reload of the page. */
  readonly unsent: number;
  /** null: not asked yet. */
  readonly list: readonly InstrumentCard[] | null;
  readonly examples: ServerState["examples"];
  readonly notices: readonly string[];
  readonly preferences: Preferences;
  readonly open: OpenInstrument | null;
  /** What the server refused of the edits that this browser kept. Empty but for mishaps. */
  readonly stranded: readonly StrandedEdit[];
  /** Two pages changed the same instrument: shown until the maker has chosen. */
  readonly conflict: Conflict | null;
}

/** What the page may do with the bench. Every promise resolves; a refusal is in its answer. */
export interface BenchDeeds {
  begin(text: string, cause: string): Promise<EditAnswer>;
  beginFromExample(file: string): Promise<EditAnswer>;
  /** Also while the server is away, if this browser had the instrument open before. */
  open(id: string): Promise<EditAnswer>;
  close(): void;
  /** Checked by the engine first: a change that the document may not have is refused with the places at fault, and nothing changes. */
  edit(changes: readonly FieldChange[], cause: string): Promise<EditAnswer>;
  /** Resolves when the page shows what was taken back. Refused while nobody here knows what it would bring back. */
  undo(): Promise<EditAnswer>;
  redo(): Promise<EditAnswer>;
  restore(revision: number, cause: string): Promise<EditAnswer>;
  keep(name: string): Promise<EditAnswer>;
  attach(file: File): Promise<EditAnswer>;
  prefer(preferences: Preferences): Promise<void>;
  putAway(id: string, away: boolean): Promise<EditAnswer>;
  /** Lines of the open instrument's history before a revision, newest first; null: the server does not answer. */
  history(before?: number): Promise<readonly RevisionLine[] | null>;
  /** The document of the open instrument at a revision; null: the server does not answer. */
  textAt(revision: number): Promise<string | null>;
  /** The document of any instrument as it stands; null: the server does not answer. */
  textOf(id: string): Promise<string | null>;
  /** Brings in a file with everything, beside what is there. */
  bringIn(file: Blob): Promise<EditAnswer>;
  /** Looks for the server now instead of after the next pause. */
  tryNow(): void;
  letGo(strandedId: string): Promise<void>;
  /** The conflict is seen; with "mine", what was set aside becomes current. */
  settleConflict(choice: "theirs" | "mine"): Promise<void>;
}
