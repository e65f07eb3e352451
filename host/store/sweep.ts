import { existsSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { backupFolder } from "./backups.ts";

/** Removes what a process that was killed had not finished writing; none of it was ever acknowledged. Needs the folder's lock. */
export function sweep(folder: string): void {
  for (const place of [folder, join(folder, "attachments"), backupFolder(folder)]) {
    if (!existsSync(place)) continue;
    for (const name of readdirSync(place))
      if (/\.part(-journal|-wal|-shm)?$/.test(name)) rmSync(join(place, name), { force: true });
  }
}
