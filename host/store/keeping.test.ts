import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { describe, expect, it } from "vitest";
import { attachmentPath } from "./attachments.ts";
import { backupFolder, outdated } from "./backups.ts";
import { databaseName } from "./database.ts";
import { restoreBackup } from "./restoreBackup.ts";
import { openResults } from "./results.ts";
import { documentNumber, idNumber, openScratch, scratchFolder, value } from "./scratch.fixture.ts";
import { sha256 } from "./texts.ts";

const guitar = idNumber(1);
const page = "page-a";
const photo = { name: "plate 3.png", mediaType: "image/png" };
const bytesOf = async (stream: AsyncIterable<Uint8Array>) => {
  const parts: Uint8Array[] = [];
  for await (const part of stream) parts.push(part);
  return Buffer.concat(parts);
};

describe("attachments", () => {
  it("come back as they were, also after a restart, and are kept once however often they are sent", async () => {
    const folder = scratchFolder();
    let store = openScratch(folder);
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    const bytes = Buffer.from(Array.from({ length: 300_000 }, (_, i) => (i * 7) & 255));
    const parts = [bytes.subarray(0, 1000), bytes.subarray(1000)];
    const kept = value(await store.attach(page, guitar, photo, Readable.from(parts)));
    expect(kept).toMatchObject({ bytes: bytes.length, sha256: sha256(bytes), name: "plate 3.png" });
    expect(value(await store.attach(page, guitar, photo, Readable.from([bytes])))).toEqual(kept);
    await store.close();
    store = openScratch(folder);
    expect(value(store.state(guitar)).attachments).toEqual([kept]);
    expect(await bytesOf(value(store.attachment(guitar, kept.id)).stream())).toEqual(bytes);
    expect(readdirSync(join(folder, "attachments"))).toEqual([kept.sha256.slice(0, 2)]);
  });

  it("that break off or are too large leave nothing, and none is read for an instrument that is not there", async () => {
    const folder = scratchFolder();
    const store = openScratch(folder);
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    const large = Readable.from(Array.from({ length: 65 }, () => Buffer.alloc(1e6)));
    expect(await store.attach(page, guitar, photo, large)).toMatchObject({ trouble: { code: "too-large" } });
    async function* breaksOff() {
      yield Buffer.alloc(1000);
      throw Object.assign(new Error("gone"), { code: "ECONNRESET" });
    }
    expect(await store.attach(page, guitar, photo, breaksOff())).toMatchObject({
      trouble: { code: "broken-off" },
    });
    expect(store.notices()).toEqual([]);
    let read = false;
    async function* watched() {
      read = true;
      yield Buffer.alloc(1);
    }
    expect(await store.attach(page, idNumber(9), photo, watched())).toMatchObject({
      trouble: { code: "absent" },
    });
    expect(read).toBe(false);
    expect(readdirSync(join(folder, "attachments"))).toEqual([]);
    expect(value(store.state(guitar)).attachments).toEqual([]);
  });
});

describe("results", () => {
  it("make room for new ones by going in the order of their last use", () => {
    const results = openResults(join(scratchFolder(), "results.sqlite"), 1000);
    for (const key of ["a", "b", "c"]) value(results.keep(key, Buffer.alloc(300, key)));
    expect(results.read("a")).toEqual(Buffer.alloc(300, "a"));
    value(results.keep("d", Buffer.alloc(300)));
    expect(["a", "b", "c", "d"].filter((key) => results.read(key) !== null)).toEqual(["a", "c", "d"]);
    expect(results.keep("e", Buffer.alloc(1001))).toMatchObject({ trouble: { code: "too-large" } });
    value(results.keep("a", Buffer.from("other")));
    expect(results.read("a")).toEqual(Buffer.from("other"));
    results.close();
  });

  it("are begun anew when their file is broken: they can be computed again", () => {
    const path = join(scratchFolder(), "results.sqlite");
    writeFileSync(path, "no database at all, but long enough to be taken for one".repeat(100));
    const results = openResults(path, 1000);
    expect(results.read("a")).toBeNull();
    value(results.keep("a", Buffer.from("a")));
    results.close();
    expect(openResults(path, 1000).read("a")).toEqual(Buffer.from("a"));
  });

  it("are kept for as long as the process runs where no file can be written", () => {
    const results = openResults(join(scratchFolder(), "no such folder", "results.sqlite"), 1000);
    value(results.keep("a", Buffer.from("a")));
    expect(results.read("a")).toEqual(Buffer.from("a"));
    results.close();
  });
});

describe("backups", () => {
  it("are made when something changed, listed, and put back with what was there kept beside", async () => {
    const folder = scratchFolder();
    const store = openScratch(folder);
    await store.backupIfDue(0);
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    await store.backupIfDue(0);
    const [first] = store.backups();
    expect(first).toMatchObject({ tested: true });
    await store.backupIfDue(0);
    expect(store.backups()).toHaveLength(1);
    value(store.edit(page, guitar, { id: idNumber(2), basis: 1, text: documentNumber(1), cause: "later" }));
    await store.backupIfDue(3_600_000);
    expect(store.backups()).toHaveLength(1);
    const name = first?.name ?? "";
    const at = new Date("2026-11-27T10:00:00Z");
    expect(restoreBackup(folder, name, at)).toMatchObject({ ok: false });
    await store.close();
    expect(restoreBackup(folder, "../other.sqlite", at)).toMatchObject({ trouble: { code: "absent" } });
    const { replaced } = value(restoreBackup(folder, name, at));
    expect(openScratch(folder).cards()).toMatchObject([{ revision: 1 }]);
    expect(openScratch(replaced).cards()).toMatchObject([{ revision: 2 }]);
  });

  it("are not made again at a start after which nothing had changed", async () => {
    const folder = scratchFolder();
    let store = openScratch(folder);
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    value(await store.backup());
    await store.close();
    store = openScratch(folder);
    await store.backupIfDue(0);
    expect(store.backups()).toHaveLength(1);
  });

  it("take the place of a store that cannot be opened any more", async () => {
    const folder = scratchFolder();
    const store = openScratch(folder);
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    const { name } = value(await store.backup());
    await store.close();
    const ruins = Buffer.from("ruined ".repeat(1000));
    writeFileSync(join(folder, databaseName), ruins);
    const { replaced } = value(restoreBackup(folder, name, new Date(0)));
    expect(openScratch(folder).cards()).toHaveLength(1);
    expect(readFileSync(join(replaced, databaseName))).toEqual(ruins);
  });

  it("that cannot be made are told of until one is made", async () => {
    const folder = scratchFolder();
    const told: string[] = [];
    const store = openScratch(folder, { noticed: (words) => told.push(words) });
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    const kept = value(await store.attach(page, guitar, photo, Readable.from([Buffer.from("x")])));
    const path = attachmentPath(folder, kept.sha256);
    const bytes = readFileSync(path);
    writeFileSync(path, "");
    expect(await store.backup()).toMatchObject({ ok: false });
    expect(store.notices()).toEqual(told);
    expect(told).toEqual([expect.stringContaining("misses the bytes of 1 attachment")]);
    expect(readdirSync(backupFolder(folder))).toEqual([]);
    writeFileSync(path, bytes);
    expect((await store.backup()).ok).toBe(true);
    expect(store.notices()).toEqual([]);
  });

  it("stay as the newest ten, the last of each of 14 days and of each of 26 weeks", () => {
    const hour = 3_600_000;
    const now = new Date("2026-11-26T12:30:00Z");
    const all = Array.from({ length: 24 * 365 }, (_, i) => {
      const at = new Date(now.getTime() - i * hour).toISOString();
      return { name: at, at, bytes: 1, tested: true };
    });
    const gone = new Set(outdated(all, now));
    const stay = all.filter(({ name }) => !gone.has(name)).map(({ at }) => at);
    expect(stay.slice(0, 10)).toEqual(all.slice(0, 10).map(({ at }) => at));
    const days = stay.filter((at) => at.slice(11, 13) === "23");
    expect(days.slice(0, 13).map((at) => at.slice(5, 10))).toEqual(
      Array.from({ length: 13 }, (_, i) =>
        new Date(now.getTime() - (i + 1) * 24 * hour).toISOString().slice(5, 10),
      ),
    );
    // of the 26 weeks the newest two or three ends are among the days already
    expect(stay.length).toBeGreaterThanOrEqual(10 + 13 + 23);
    expect(stay.length).toBeLessThanOrEqual(10 + 13 + 26);
    expect(Date.parse(stay.at(-1) ?? "")).toBeLessThan(now.getTime() - 24 * 7 * 24 * hour);
    // removing what is outdated once more removes nothing
    expect(
      outdated(
        all.filter(({ name }) => !gone.has(name)),
        now,
      ),
    ).toEqual([]);
  });
});

describe("a full disk", () => {
  it("refuses the edit in words, loses nothing acknowledged, and is over when there is room again", async () => {
    const folder = scratchFolder();
    const told: string[] = [];
    // a few pages more than an empty store takes
    let store = openScratch(folder, { databaseRoom: 160_000, noticed: (words) => told.push(words) });
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    let acknowledged = 1;
    let answer: ReturnType<typeof store.edit> | null = null;
    for (let n = 0; n < 800; n++) {
      // undo and redo of one text: small rows, and no document to be checked
      answer =
        acknowledged === 1
          ? store.edit(page, guitar, {
              id: idNumber(n + 2),
              basis: 1,
              text: documentNumber(1),
              cause: "to 1",
            })
          : acknowledged % 2 === 0
            ? store.undo(page, guitar, { id: idNumber(n + 2), basis: acknowledged })
            : store.redo(page, guitar, { id: idNumber(n + 2), basis: acknowledged });
      if (!answer.ok) break;
      acknowledged += 1;
    }
    expect(answer).toMatchObject({ ok: false, trouble: { code: "disk-full" } });
    expect(acknowledged).toBeGreaterThan(10);
    expect(store.notices()).toEqual([expect.stringContaining("The disk is full")]);
    expect(told).toEqual(store.notices());
    expect(value(store.state(guitar)).revision).toBe(acknowledged);
    await store.close();
    store = openScratch(folder);
    expect(value(store.state(guitar)).revision).toBe(acknowledged);
    expect(value(store.history(guitar))).toHaveLength(Math.min(200, acknowledged));
    value(store.undo(page, guitar, { id: idNumber(999), basis: acknowledged }));
    expect(store.notices()).toEqual([]);
  });

  it("leaves nothing half-written of an attachment", async () => {
    const folder = scratchFolder();
    const store = openScratch(folder);
    value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
    // a file where the folder of attachments should be: nothing can be written there
    writeFileSync(join(folder, "attachments"), "");
    const answer = await store.attach(page, guitar, photo, Readable.from([Buffer.from("x")]));
    expect(answer).toMatchObject({ ok: false, trouble: { code: "disk" } });
    expect(store.notices()).toHaveLength(1);
    expect(readFileSync(join(folder, "attachments"), "utf8")).toBe("");
  });
});
