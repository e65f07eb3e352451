import { homedir } from "node:os";
import { resolve } from "node:path";
import { storeFolder } from "#host/server";
import { restoreBackup, storedBackups } from "#host/store";
import { type Answer, good, refusal } from "./answer.ts";
import { table } from "./text.ts";

/** `fairbout restore`: lists a folder's backups, or puts one in the place of the store; what was there is kept beside it. */
export function restore(name: string | undefined, options: { readonly folder?: string }, now: Date): Answer {
  const folder = resolve(options.folder ?? storeFolder(process.platform, homedir(), process.env));
  if (name === undefined) {
    const all = storedBackups(folder);
    if (all.length === 0) return good(`There are no backups in ${folder}.`);
    const rows = all.map(({ name: file, at, bytes }) => [at, `${(bytes / 1e6).toFixed(1)} MB`, file]);
    return good(
      `Backups in ${folder}, newest first; each was restored and compared when it was made\n\n${table(rows)}\n`,
    );
  }
  const done = restoreBackup(folder, name, now);
  if (!done.ok) return refusal(folder, [{ path: "", message: done.trouble.message }], false);
  return good(`${name} is the store now. What was there before lies in ${done.value.replaced}.`);
}
