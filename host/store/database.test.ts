import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import Database from "better-sqlite3";
import { describe, expect, it } from "vitest";
import { contentDigest } from "./contentDigest.ts";
import { databaseName, openDatabase } from "./database.ts";
import { migrations } from "./migrations/migrations.ts";
import { openStore } from "./openStore.ts";
import { documentNumber, idNumber, openScratch, scratchFolder, value } from "./scratch.fixture.ts";

const clock = () => new Date(0);
const digest = (path: string) => createHash("sha256").update(readFileSync(path)).digest("hex");
const nothing = () => {};

describe("the store's database", () => {
  it("is durable at every commit: SQLite keeps the settings that make it so", () => {
    const opened = openDatabase(join(scratchFolder(), databaseName), migrations, nothing);
    if (!opened.ok) throw new Error(opened.message);
    const read = (name: string) => opened.database.pragma(name, { simple: true });
    expect([read("journal_mode"), read("synchronous"), read("foreign_keys")]).toEqual(["wal", 2, 1]);
    opened.database.close();
  });

  it("refuses to forget or change what a maker made, whoever asks", async () => {
    const folder = scratchFolder();
    const store = openScratch(folder);
    value(store.make("p", { id: idNumber(1), text: documentNumber(1), cause: "made" }));
    value(store.keepsake("p", idNumber(1), { id: idNumber(2), name: "first", revision: 1 }));
    await store.close();
    const database = new Database(join(folder, databaseName));
    const before = await contentDigest(database);
    for (const table of ["instruments", "revisions", "texts", "keepsakes"])
      expect(() => database.exec(`delete from ${table}`), table).toThrow(/never deleted/);
    for (const change of [
      "revisions set cause = 'x'",
      "revisions set number = 7",
      "texts set deflated = x'00'",
      "texts set checked = 0",
      "keepsakes set name = 'x'",
      "instruments set made = 'x'",
    ])
      expect(() => database.exec(`update ${change}`), change).toThrow(/never changed|keep their id/);
    expect(await contentDigest(database)).toBe(before);
    database.close();
  });

  it("is refused, left as it is and told of, when the file is another's, broken or of a newer version", async () => {
    const made = scratchFolder();
    const store = openScratch(made);
    value(store.make("p", { id: idNumber(1), text: documentNumber(1), cause: "made" }));
    await store.close();
    const whole = readFileSync(join(made, databaseName));
    const torn = Buffer.from(whole);
    for (let at = 4096; at < torn.length; at += 4096) torn.fill(0xa5, at, at + 2000);
    const newer = join(scratchFolder(), "newer.sqlite");
    writeFileSync(newer, whole);
    const raised = new Database(newer);
    raised.pragma("user_version = 99");
    raised.close();
    const other = join(scratchFolder(), "other.sqlite");
    const foreign = new Database(other);
    foreign.exec("create table addresses (name text)");
    foreign.close();
    const cases: readonly (readonly [what: string, bytes: Buffer, words: RegExp])[] = [
      ["a text", Buffer.from("my shopping list\n".repeat(50)), /does not begin as an SQLite file/],
      ["another program's", readFileSync(other), /another program/],
      ["torn pages", torn, /broken|could not be opened/],
      ["cut short", whole.subarray(0, whole.length - 6000), /broken|could not be opened/],
      ["newer", readFileSync(newer), /newer Fairbout \(store version 99/],
    ];
    for (const [what, bytes, words] of cases) {
      const folder = scratchFolder();
      const path = join(folder, databaseName);
      writeFileSync(path, bytes);
      const before = digest(path);
      const opened = openStore({ folder, clock });
      expect(opened.ok, what).toBe(false);
      if (opened.ok) continue;
      expect(opened.message, what).toMatch(words);
      expect(opened.message, what).toContain(path);
      expect(opened.message, what).toContain("left as it is");
      expect(digest(path), what).toBe(before);
    }
  });

  it("is begun anew where a first start was cut off before anything was kept", () => {
    const folder = scratchFolder();
    writeFileSync(join(folder, databaseName), "");
    expect(openScratch(folder).cards()).toEqual([]);
  });

  it("belongs to one process at a time; a second start is told where the first answers", async () => {
    const folder = scratchFolder();
    const store = openScratch(folder);
    store.tellAddress("http://127.0.0.1:4711/");
    expect(openStore({ folder, clock })).toEqual({
      ok: false,
      message: "Fairbout runs on this folder already. It answers at http://127.0.0.1:4711/",
      address: "http://127.0.0.1:4711/",
    });
    await store.close();
    expect(openScratch(folder).cards()).toEqual([]);
  });

  it("says in words that a folder cannot be used", () => {
    const file = join(scratchFolder(), "file");
    writeFileSync(file, "");
    expect(openStore({ folder: join(file, "sub"), clock })).toMatchObject({ ok: false });
  });
});

describe("migrations", () => {
  const sample = (version: number) =>
    gunzipSync(readFileSync(join(import.meta.dirname, "samples", `version-${version}.sqlite.gz`)));

  it("are numbered from 1 without a gap, and each version has its frozen sample", () => {
    expect(migrations.map(({ version }) => version)).toEqual(migrations.map((_, i) => i + 1));
    expect(readdirSync(join(import.meta.dirname, "samples")).sort()).toEqual(
      migrations.map(({ version }) => `version-${version}.sqlite.gz`).sort(),
    );
  });

  it("open the sample of version 1 with everything that was done in it", () => {
    const folder = scratchFolder();
    writeFileSync(join(folder, databaseName), sample(1));
    const store = openScratch(folder);
    expect(store.cards().map(({ name, revision, away }) => [name, revision, away])).toEqual([
      ["Low radial", 1, true],
      ["Small ladder", 6, false],
    ]);
    const one = value(store.state(idNumber(1)));
    expect(one).toMatchObject({
      undo: "what was set aside",
      redo: null,
      keepsakes: [{ name: "as first drawn", revision: 1 }],
      aside: [{ revision: 3, basis: 1, cause: "too late" }],
      attachments: [{ name: "tap at the bridge.txt", bytes: 3 }],
    });
    expect(value(store.history(idNumber(1))).map(({ kind }) => kind)).toEqual([
      "restore",
      "redo",
      "undo",
      "aside",
      "edit",
      "made",
    ]);
    expect(JSON.parse(value(store.revisionText(idNumber(1), 2)))).toMatchObject({
      name: "Small ladder, renamed",
    });
    expect(store.preferences()).toEqual({ units: "inch", light: "night" });
    const back = value(store.undo("p", idNumber(1), { id: idNumber(90), basis: 6 }));
    expect(back).toMatchObject({ done: true, saved: { undo: "name" } });
  });

  it("change an older store step by step, after a copy of it was made, and keep all that is in it", async () => {
    const folder = scratchFolder();
    const path = join(folder, databaseName);
    writeFileSync(path, sample(1));
    const later = [
      ...migrations.slice(0, 1),
      { version: 2, sql: "alter table instruments add column bench text not null default 'main'" },
    ];
    let copied = -1;
    const opened = openDatabase(path, later, (database, version) => {
      copied = version;
      mkdirSync(join(folder, "backups"));
      database.prepare("vacuum into ?").run(join(folder, "backups", "before.sqlite"));
    });
    if (!opened.ok) throw new Error(opened.message);
    expect(copied).toBe(1);
    expect(opened.database.pragma("user_version", { simple: true })).toBe(2);
    expect(
      opened.database.prepare("select count(*) as n from instruments where bench = 'main'").get(),
    ).toEqual({
      n: 2,
    });
    opened.database.close();
    const before = new Database(join(folder, "backups", "before.sqlite"), { readonly: true });
    writeFileSync(join(folder, "sample.sqlite"), sample(1));
    const frozen = new Database(join(folder, "sample.sqlite"));
    expect(await contentDigest(before)).toBe(await contentDigest(frozen));
    before.close();
    frozen.close();
  });

  it("that fail leave the store at the version it had", () => {
    const folder = scratchFolder();
    const path = join(folder, databaseName);
    writeFileSync(path, sample(1));
    const wrong = [
      ...migrations.slice(0, 1),
      { version: 2, sql: "alter table instruments add column a text; alter table none add column b text" },
    ];
    const opened = openDatabase(path, wrong, nothing);
    expect(opened).toMatchObject({ ok: false });
    const again = openDatabase(path, migrations.slice(0, 1), nothing);
    if (!again.ok) throw new Error(again.message);
    expect(again.database.prepare("select name from pragma_table_info('instruments')").all()).toHaveLength(3);
    again.database.close();
  });
});
