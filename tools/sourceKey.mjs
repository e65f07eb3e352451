import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { root } from "./prepare.mjs";

/** Sixteen digits that change with path, size and time of every source file below the folders, with the files and with the installed packages. */
export function sourceKey(folders, kinds, files = []) {
  const hash = createHash("sha256").update(process.version);
  hash.update(readFileSync(join(root, "package-lock.json")));
  for (const folder of folders) {
    for (const name of readdirSync(join(root, folder), { recursive: true }).sort()) {
      if (!kinds.test(name)) continue;
      const { mtimeMs, size } = statSync(join(root, folder, name));
      hash.update(`${folder}/${name} ${mtimeMs} ${size}\n`);
    }
  }
  for (const name of files) hash.update(readFileSync(join(root, name)));
  return hash.digest("hex").slice(0, 16);
}
