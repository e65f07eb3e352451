/**
 * Writes the frozen sample of the store's present version: node tools/run.mjs tools/store-sample.ts
 * A store in which every kind of thing was done, as its own backup; it stays as it is when the version goes up.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { type Kept, openStore, storeVersion } from "#host/store";

const root = join(import.meta.dirname, "..");
const sample = join(root, "host", "store", "samples", `version-${storeVersion}.sqlite.gz`);
if (existsSync(sample)) throw new Error(`${sample} is frozen; raise the store's version first`);

const example = (name: string) => readFileSync(join(root, "examples", `${name}.fairbout.json`), "utf8");
const id = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, "0")}`;
const did = <T>(kept: Kept<T>): T => {
  if (!kept.ok) throw new Error(kept.trouble.message);
  return kept.value;
};

let time = Date.UTC(2026, 10, 26, 12);
const clock = () => {
  time += 1000;
  return new Date(time);
};
const folder = mkdtempSync(join(tmpdir(), "fairbout-sample-"));
const opened = openStore({ folder, clock });
if (!opened.ok) throw new Error(opened.message);
const { store } = opened;

const first = example("small-ladder");
const second = first.replace('"Small ladder"', '"Small ladder, renamed"');
did(store.make("page-a", { id: id(1), text: first, cause: "begun from Small ladder" }));
did(store.edit("page-a", id(1), { id: id(11), basis: 1, text: second, cause: "name" }));
did(store.edit("page-b", id(1), { id: id(12), basis: 1, text: first, cause: "too late" }));
did(store.undo("page-a", id(1), { id: id(13), basis: 2 }));
did(store.redo("page-a", id(1), { id: id(14), basis: 4 }));
did(store.restore("page-a", id(1), { id: id(15), basis: 5, revision: 3, cause: "what was set aside" }));
did(store.keepsake("page-a", id(1), { id: id(16), name: "as first drawn", revision: 1 }));
did(
  await store.attach(
    "page-a",
    id(1),
    { name: "tap at the bridge.txt", mediaType: "text/plain" },
    bytes("tap"),
  ),
);
did(store.make("page-a", { id: id(2), text: example("low-radial"), cause: "begun from Low radial" }));
did(store.putAway(id(2), { away: "yes" }));
did(store.setPreferences({ units: "inch", light: "night" }));
const backup = did(await store.backup());
await store.close();
writeFileSync(sample, gzipSync(readFileSync(join(folder, "backups", backup.name)), { level: 9 }));
rmSync(folder, { recursive: true });

async function* bytes(text: string) {
  yield Buffer.from(text);
}
