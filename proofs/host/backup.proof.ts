/**
 * A backup restored equals its source, taken while edits go on: the digest of every table is compared with that of the database at the
 * moment the backup was begun. And a disk that is really full, where this machine lets one be made.
 */
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statfsSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { expect, it, onTestFinished } from "vitest";
import { openStore, restoreBackup, type Store } from "#host/store";
import { contentDigest } from "../../host/store/contentDigest.ts";

const ladder = readFileSync(
  join(import.meta.dirname, "..", "..", "examples", "small-ladder.fairbout.json"),
  "utf8",
);
const id = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, "0")}`;
const guitar = id(1);

function opened(folder: string): Store {
  const answer = openStore({ folder, clock: () => new Date() });
  if (!answer.ok) throw new Error(answer.message);
  return answer.store;
}

async function digest(path: string): Promise<string> {
  const database = new Database(path, { readonly: true });
  try {
    return await contentDigest(database);
  } finally {
    database.close();
  }
}

/** Undo and redo in turn: a revision each, and no document to be checked. */
function turn(store: Store, basis: number) {
  const what = { id: id(1000 + basis), basis };
  return basis % 2 === 0 ? store.undo("p", guitar, what) : store.redo("p", guitar, what);
}

function begin(store: Store): number {
  const text = ladder.replace('"Small ladder"', '"Small ladder, later"');
  const made = store.make("p", { id: guitar, text: ladder, cause: "begun" });
  const edited = store.edit("p", guitar, { id: id(2), basis: 1, text, cause: "later" });
  if (!made.ok || !edited.ok) throw new Error("the store took nothing");
  return 2;
}

it("a backup restored equals its source at the moment it was begun, while 400 edits go on", async () => {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-backup-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const path = join(folder, "fairbout.sqlite");
  let store = opened(folder);
  let revision = begin(store);
  for (let i = 0; i < 1500; i++) {
    expect(turn(store, revision).ok).toBe(true);
    revision += 1;
  }
  const source = await digest(path);
  let backup: Awaited<ReturnType<Store["backup"]>> | null = null;
  const under = store.backup().then((made) => {
    backup = made;
  });
  let meanwhile = 0;
  while (meanwhile < 400) {
    expect(turn(store, revision).ok).toBe(true);
    revision += 1;
    meanwhile += 1;
    await new Promise((next) => setImmediate(next));
  }
  await under;
  const made = backup as Awaited<ReturnType<Store["backup"]>> | null;
  if (!made?.ok) throw new Error("no backup was made");
  const place = join(folder, "backups", made.value.name);
  expect(await digest(place)).toBe(source);
  expect(await digest(path)).not.toBe(source);
  await store.close();

  expect(restoreBackup(folder, made.value.name, new Date()).ok).toBe(true);
  expect(await digest(path)).toBe(source);
  store = opened(folder);
  const state = store.state(guitar);
  expect(state).toMatchObject({ ok: true, value: { revision: 1502 } });
  await store.close();

  // the digest notices a single letter
  const changed = new Database(place);
  changed.exec("drop trigger revisions_keep; update revisions set cause = 'laten' where number = 2");
  changed.close();
  expect(await digest(place)).not.toBe(source);
}, 600_000);

/** A file system of a few megabytes, or null where it may not be made. */
function smallDisk(): string | null {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-small-disk-"));
  try {
    execFileSync("sh", ["-c", 'mount -t tmpfs -o size=3m tmpfs "$0"', folder], { stdio: "ignore" });
  } catch {
    rmSync(folder, { recursive: true });
    return null;
  }
  onTestFinished(() => {
    execFileSync("sh", ["-c", 'umount "$0"', folder]);
    rmSync(folder, { recursive: true });
  });
  return folder;
}

it("a disk that fills up refuses edits in words and loses none; with room again all goes on", async (context) => {
  const disk = smallDisk();
  if (disk === null) return context.skip("this user may not mount a file system, so no disk can be filled");
  const folder = join(disk, "store");
  mkdirSync(folder);
  let store = opened(folder);
  let revision = begin(store);
  // what fills the disk is somebody else's
  const filler = join(disk, "filler");
  const { bavail, bsize } = statfsSync(disk);
  writeFileSync(filler, Buffer.alloc(bavail * bsize - 40_000));
  let answer = turn(store, revision);
  for (let i = 0; answer.ok && i < 2000; i++) {
    revision += 1;
    answer = turn(store, revision);
  }
  expect(answer).toMatchObject({ ok: false, trouble: { code: "disk-full" } });
  expect(store.notices()).toHaveLength(1);
  expect(store.state(guitar)).toMatchObject({ ok: true, value: { revision } });
  expect(await store.backup()).toMatchObject({ ok: false });
  const part = await store.attach("p", guitar, { name: "a.wav", mediaType: "audio/wav" }, bytes(200_000));
  expect(part).toMatchObject({ ok: false, trouble: { code: "disk-full" } });
  // a restart while it is full finds everything
  await store.close();
  store = opened(folder);
  expect(store.state(guitar)).toMatchObject({ ok: true, value: { revision } });
  rmSync(filler);
  expect(turn(store, revision).ok).toBe(true);
  expect(
    (await store.attach("p", guitar, { name: "a.wav", mediaType: "audio/wav" }, bytes(200_000))).ok,
  ).toBe(true);
  expect((await store.backup()).ok).toBe(true);
  expect(store.notices()).toEqual([]);
  await store.close();
});

async function* bytes(count: number) {
  for (let sent = 0; sent < count; sent += 10_000) yield Buffer.alloc(10_000, 7);
}
