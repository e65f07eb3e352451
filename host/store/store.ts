import { join } from "node:path";
import type Database from "better-sqlite3";
import type {
  Attachment,
  Backup,
  Edit,
  InstrumentCard,
  InstrumentState,
  Keepsake,
  NewInstrument,
  NewKeepsake,
  Preferences,
  PutAway,
  Restore,
  RevisionLine,
  Step,
} from "#host/api";
import { bringIn } from "./archive/bringIn.ts";
import { writeArchive } from "./archive/writeArchive.ts";
import { attach, keepBytes, readAttachment } from "./attachments.ts";
import { backups, makeBackup, removeOutdated } from "./backups.ts";
import { type Changed, editInstrument, makeInstrument, restoreRevision, stepInstrument } from "./changes.ts";
import { databaseName } from "./database.ts";
import {
  instrumentCard,
  instrumentCards,
  instrumentHistory,
  instrumentState,
  putAway,
  revisionText,
} from "./instruments.ts";
import { keepRevision } from "./keepsakes.ts";
import type { Kept } from "./kept.ts";
import type { FolderLock } from "./lock.ts";
import { readPreferences, writePreferences } from "./preferences.ts";
import type { ResultStore } from "./results.ts";

export interface StoreOptions {
  /** Everything lies in this folder; it is made if there is none. */
  readonly folder: string;
  readonly clock: () => Date;
  /** Room for computed results, bytes. */
  readonly resultRoom?: number;
  /** Most bytes that the database may take; for tests of a full disk. */
  readonly databaseRoom?: number;
  /** Told when there is something new that the maker should know of the store. */
  readonly noticed?: (words: string) => void;
}

/** What a maker has: open until it is closed. Whatever a method acknowledges is on the disk. */
export class Store {
  readonly folder: string;
  readonly #options: StoreOptions;
  readonly #lock: FolderLock;
  readonly #database: Database.Database;
  readonly #results: ResultStore;
  readonly #notices = new Map<"disk" | "backup", string>();
  #backup: Promise<Kept<Backup>> | null = null;
  #lastBackup: { readonly time: number; readonly changes: number };

  constructor(options: StoreOptions, lock: FolderLock, database: Database.Database, results: ResultStore) {
    this.folder = options.folder;
    this.#options = options;
    this.#lock = lock;
    this.#database = database;
    this.#results = results;
    this.#lastBackup = { time: Number.NEGATIVE_INFINITY, changes: -1 };
    if (!changedSince(database, backups(this.folder)[0]?.at ?? ""))
      this.#lastBackup = { time: options.clock().getTime(), changes: this.#changes() };
    if (options.databaseRoom !== undefined) {
      const page = Number(database.pragma("page_size", { simple: true }));
      database.pragma(`max_page_count = ${Math.ceil(options.databaseRoom / page)}`);
    }
  }

  /** ISO 8601, UTC. */
  now(): string {
    return this.#options.clock().toISOString();
  }

  #asked(page: string) {
    return { page, at: this.now() };
  }

  /** Notes whether the disk took what was to be kept; what it did take is the end of that notice. */
  #noted<T>(kept: Kept<T>): Kept<T> {
    if (kept.ok) this.#notices.delete("disk");
    else if (kept.trouble.code === "disk-full" || kept.trouble.code === "disk")
      this.#notice("disk", kept.trouble.message);
    return kept;
  }

  #notice(kind: "disk" | "backup", words: string): void {
    if (this.#notices.get(kind) !== words) this.#options.noticed?.(words);
    this.#notices.set(kind, words);
  }

  /** What the maker should know of the store now, in words. */
  notices(): string[] {
    return [...this.#notices.values()];
  }

  /** Leaves word for a second start of where this one answers. */
  tellAddress(address: string): void {
    this.#lock.tell(address);
  }

  cards(): InstrumentCard[] {
    return instrumentCards(this.#database);
  }

  state(id: string): Kept<InstrumentState> {
    return instrumentState(this.#database, id);
  }

  make(page: string, what: NewInstrument): Kept<InstrumentState> {
    return this.#noted(makeInstrument(this.#database, this.#asked(page), what));
  }

  edit(page: string, id: string, what: Edit): Kept<Changed> {
    return this.#noted(editInstrument(this.#database, this.#asked(page), id, what));
  }

  undo(page: string, id: string, what: Step): Kept<Changed> {
    return this.#noted(stepInstrument(this.#database, this.#asked(page), id, "undo", what));
  }

  redo(page: string, id: string, what: Step): Kept<Changed> {
    return this.#noted(stepInstrument(this.#database, this.#asked(page), id, "redo", what));
  }

  restore(page: string, id: string, what: Restore): Kept<Changed> {
    return this.#noted(restoreRevision(this.#database, this.#asked(page), id, what));
  }

  keepsake(page: string, id: string, what: NewKeepsake): Kept<Keepsake> {
    return this.#noted(keepRevision(this.#database, this.#asked(page), id, what));
  }

  putAway(id: string, what: PutAway): Kept<InstrumentCard> {
    return this.#noted(putAway(this.#database, id, what));
  }

  history(id: string, before?: number): Kept<RevisionLine[]> {
    return instrumentHistory(this.#database, id, before);
  }

  revisionText(id: string, revision: number): Kept<string> {
    return revisionText(this.#database, id, revision);
  }

  /** Keeps a recording or a photo; nothing of the stream is read for an instrument that is not there. */
  async attach(
    page: string,
    id: string,
    about: { readonly name: string; readonly mediaType: string },
    stream: AsyncIterable<Uint8Array>,
  ): Promise<Kept<Attachment>> {
    const card = instrumentCard(this.#database, id);
    if (!card.ok) return card;
    const bytes = await keepBytes(this.folder, stream);
    if (!bytes.ok) return this.#noted(bytes);
    return this.#noted(attach(this.#database, this.#asked(page), id, { ...about, ...bytes.value }));
  }

  attachment(id: string, attachment: string) {
    return readAttachment(this.#database, this.folder, id, attachment);
  }

  result(key: string): Buffer | null {
    return this.#results.read(key);
  }

  keepResult(key: string, bytes: Uint8Array): Kept<null> {
    return this.#results.keep(key, bytes);
  }

  preferences(): Preferences {
    return readPreferences(this.#database);
  }

  setPreferences(what: Preferences): Kept<Preferences> {
    return this.#noted(writePreferences(this.#database, what));
  }

  /** One file with everything, or with everything of one instrument. */
  archive(only?: string): Kept<AsyncGenerator<Uint8Array>> {
    return writeArchive(join(this.folder, databaseName), this.folder, this.#options.clock(), only);
  }

  /** Brings in such a file beside what is there; a broken one changes nothing. */
  async bringIn(stream: AsyncIterable<Uint8Array>): Promise<Kept<InstrumentCard[]>> {
    return this.#noted(await bringIn(this.#database, this.folder, stream));
  }

  backups(): Backup[] {
    return backups(this.folder);
  }

  /** Makes a backup now, or gives the one that is being made. */
  backup(): Promise<Kept<Backup>> {
    this.#backup ??= this.#makeBackup().finally(() => {
      this.#backup = null;
    });
    return this.#backup;
  }

  async #makeBackup(): Promise<Kept<Backup>> {
    const at = this.#options.clock();
    const changes = this.#changes();
    const made = await makeBackup(join(this.folder, databaseName), this.folder, at);
    if (made.ok) {
      this.#lastBackup = { time: at.getTime(), changes };
      this.#notices.delete("backup");
      removeOutdated(this.folder, at);
    } else this.#notice("backup", `The last backup failed. ${made.trouble.message}`);
    return made;
  }

  /** Makes a backup if something changed and the last one is `pause` milliseconds old. */
  async backupIfDue(pause: number): Promise<void> {
    const { time, changes } = this.#lastBackup;
    if (changes !== this.#changes() && this.#options.clock().getTime() - time >= pause) await this.backup();
  }

  /** Rows written by this process. */
  #changes(): number {
    return this.#database.prepare<[], { n: number }>("select total_changes() as n").get()?.n ?? 0;
  }

  /** Waits for a backup that is under way, and closes everything. */
  async close(): Promise<void> {
    await this.#backup;
    this.#results.close();
    this.#database.close();
    this.#lock.release();
  }
}

/** Whether anything was made after a time, ISO 8601. */
function changedSince(database: Database.Database, at: string): boolean {
  const newest = database
    .prepare<[], { at: string | null }>(
      "select max(at) as at from (select at from revisions union all select at from keepsakes union all select at from attachments)",
    )
    .get()?.at;
  return newest !== undefined && newest !== null && newest > at;
}
