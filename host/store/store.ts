import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type Database from "better-sqlite3";
import type {
  Attachment,
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
import { attach, keepBytes, readAttachment } from "./attachments.ts";
import { type Changed, editInstrument, makeInstrument, restoreRevision, stepInstrument } from "./changes.ts";
import { openDatabase } from "./database.ts";
import { instrumentCards, instrumentHistory, instrumentState, putAway, revisionText } from "./instruments.ts";
import { keepRevision } from "./keepsakes.ts";
import type { Kept } from "./kept.ts";
import { type FolderLock, lockFolder } from "./lock.ts";
import { migrations } from "./migrations/migrations.ts";
import { readPreferences, writePreferences } from "./preferences.ts";
import { openResults, type ResultStore } from "./results.ts";

export interface StoreOptions {
  /** Everything lies in this folder; it is made if there is none. */
  readonly folder: string;
  readonly clock: () => Date;
  /** Room for computed results, bytes. */
  readonly resultRoom?: number;
}

export type OpenedStore =
  | { readonly ok: true; readonly store: Store }
  | {
      readonly ok: false;
      readonly message: string;
      /** Where the process that has the folder answers. */
      readonly address?: string;
    };

/** Opens a folder's store, or tells in words why not; nothing that lies there is ever overwritten. */
export function openStore(options: StoreOptions): OpenedStore {
  const { folder } = options;
  let lock: FolderLock;
  try {
    mkdirSync(folder, { recursive: true });
    const locked = lockFolder(folder);
    if (!locked.ok) {
      const where = locked.address === null ? "" : ` It answers at ${locked.address}`;
      const message = `Fairbout runs on this folder already.${where}`;
      return locked.address === null
        ? { ok: false, message }
        : { ok: false, message, address: locked.address };
    }
    lock = locked.lock;
  } catch (error) {
    const { code, message } = error as { code?: string; message?: string };
    return {
      ok: false,
      message: `${folder} cannot be used as the folder of the store (${code ?? message}).`,
    };
  }
  const opened = openDatabase(join(folder, databaseName), migrations, () => {});
  if (!opened.ok) {
    lock.release();
    return {
      ok: false,
      message: `${opened.message} It was left as it is.`,
    };
  }
  const results = openResults(join(folder, "results.sqlite"), options.resultRoom ?? 512e6);
  return { ok: true, store: new Store(options, lock, opened.database, results) };
}

/** Name of the database in the store's folder. */
export const databaseName = "fairbout.sqlite";

/** What a maker has: open until it is closed. Whatever a method acknowledges is on the disk. */
export class Store {
  readonly folder: string;
  readonly #clock: () => Date;
  readonly #lock: FolderLock;
  readonly #database: Database.Database;
  readonly #results: ResultStore;

  constructor(options: StoreOptions, lock: FolderLock, database: Database.Database, results: ResultStore) {
    this.folder = options.folder;
    this.#clock = options.clock;
    this.#lock = lock;
    this.#database = database;
    this.#results = results;
  }

  #asked(page: string) {
    return { page, at: this.#clock().toISOString() };
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
    return makeInstrument(this.#database, this.#asked(page), what);
  }

  edit(page: string, id: string, what: Edit): Kept<Changed> {
    return editInstrument(this.#database, this.#asked(page), id, what);
  }

  undo(page: string, id: string, what: Step): Kept<Changed> {
    return stepInstrument(this.#database, this.#asked(page), id, "undo", what);
  }

  redo(page: string, id: string, what: Step): Kept<Changed> {
    return stepInstrument(this.#database, this.#asked(page), id, "redo", what);
  }

  restore(page: string, id: string, what: Restore): Kept<Changed> {
    return restoreRevision(this.#database, this.#asked(page), id, what);
  }

  keepsake(page: string, id: string, what: NewKeepsake): Kept<Keepsake> {
    return keepRevision(this.#database, this.#asked(page), id, what);
  }

  putAway(id: string, what: PutAway): Kept<InstrumentCard> {
    return putAway(this.#database, id, what);
  }

  history(id: string, before?: number): Kept<RevisionLine[]> {
    return instrumentHistory(this.#database, id, before);
  }

  revisionText(id: string, revision: number): Kept<string> {
    return revisionText(this.#database, id, revision);
  }

  async attach(
    page: string,
    id: string,
    about: { readonly name: string; readonly mediaType: string },
    stream: AsyncIterable<Uint8Array>,
  ): Promise<Kept<Attachment>> {
    const bytes = await keepBytes(this.folder, stream);
    if (!bytes.ok) return bytes;
    return attach(this.#database, this.#asked(page), id, { ...about, ...bytes.value });
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
    return writePreferences(this.#database, what);
  }

  close(): void {
    this.#results.close();
    this.#database.close();
    this.#lock.release();
  }
}
