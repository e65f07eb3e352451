import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { backupFolder, backups } from "./backups.ts";
import { databaseName, openDatabase } from "./database.ts";
import { syncFolder } from "./durableFile.ts";
import { type FolderLock, lockFolder } from "./lock.ts";
import { migrations } from "./migrations/migrations.ts";
import { openResults } from "./results.ts";
import { Store, type StoreOptions } from "./store.ts";
import { sweep } from "./sweep.ts";

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
    // what a maker has is nobody else's on a machine with several users
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const locked = lockFolder(folder);
    if (!locked.ok) {
      const where = locked.address === null ? "" : ` It answers at ${locked.address}`;
      const message = `Fairbout runs on this folder already.${where}`;
      return locked.address === null
        ? { ok: false, message }
        : { ok: false, message, address: locked.address };
    }
    lock = locked.lock;
    sweep(folder);
  } catch (error) {
    const { code, message } = error as { code?: string; message?: string };
    return {
      ok: false,
      message: `${folder} cannot be used as the folder of the store (${code ?? message}).`,
    };
  }
  const opened = openDatabase(join(folder, databaseName), migrations, (database, version) => {
    mkdirSync(backupFolder(folder), { recursive: true });
    const at = options.clock().toISOString().replaceAll(":", "-");
    database
      .prepare("vacuum into ?")
      .run(join(backupFolder(folder), `of-store-version-${version}-${at}.sqlite`));
  });
  if (!opened.ok) {
    lock.release();
    const last = backups(folder)[0];
    const remedy =
      last === undefined
        ? "Take another folder with --folder, or put that file elsewhere."
        : `To go back to the last backup, which keeps that file beside it: fairbout restore ${last.name}`;
    return { ok: false, message: `${opened.message} It was left as it is. ${remedy}` };
  }
  syncFolder(folder);
  const results = openResults(join(folder, "results.sqlite"), options.resultRoom ?? 512e6);
  return { ok: true, store: new Store(options, lock, opened.database, results) };
}
