import { readdirSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import Database from "better-sqlite3";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate/browser";
import { describe, expect, it } from "vitest";
import { contentDigest } from "../contentDigest.ts";
import { databaseName } from "../database.ts";
import { documentNumber, idNumber, openScratch, scratchFolder, value } from "../scratch.fixture.ts";
import type { Store } from "../store.ts";
import { sha256 } from "../texts.ts";

const guitar = idNumber(1);
const page = "page-a";
const photo = { name: "plate 3.png", mediaType: "image/png" };
const photoBytes = Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 31) & 255));

async function filled(folder: string): Promise<Store> {
  const store = openScratch(folder);
  value(store.make(page, { id: guitar, text: documentNumber(0), cause: "made" }));
  value(store.edit(page, guitar, { id: idNumber(11), basis: 1, text: documentNumber(1), cause: "to 1" }));
  value(store.edit("page-b", guitar, { id: idNumber(12), basis: 1, text: documentNumber(2), cause: "late" }));
  value(store.undo(page, guitar, { id: idNumber(13), basis: 2 }));
  value(store.keepsake(page, guitar, { id: idNumber(14), name: "first", revision: 1 }));
  value(await store.attach(page, guitar, photo, Readable.from([photoBytes])));
  return store;
}

async function zipped(store: Store, only?: string): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  for await (const part of value(store.archive(only))) parts.push(part);
  return Buffer.concat(parts);
}

const bringIn = (store: Store, bytes: Uint8Array) => store.bringIn(Readable.from([bytes]));

async function digestOf(folder: string): Promise<string> {
  const database = new Database(join(folder, databaseName), { readonly: true });
  const digest = await contentDigest(database);
  database.close();
  return digest;
}

describe("a file with everything", () => {
  it("brings all of it to another folder: histories, keepsakes, attachments, what was set aside", async () => {
    const store = await filled(scratchFolder());
    const other = openScratch(scratchFolder());
    const cards = value(await bringIn(other, await zipped(store)));
    expect(cards).toEqual(store.cards());
    expect(other.state(guitar)).toEqual(store.state(guitar));
    expect(other.history(guitar)).toEqual(store.history(guitar));
    for (const revision of [1, 2, 3, 4])
      expect(other.revisionText(guitar, revision)).toEqual(store.revisionText(guitar, revision));
    const [attached] = value(other.state(guitar)).attachments;
    const parts = [];
    for await (const part of value(other.attachment(guitar, attached?.id ?? "")).stream()) parts.push(part);
    expect(Buffer.concat(parts)).toEqual(photoBytes);
    // an older state is checked when it is made current again, and the history goes on
    expect(value(other.redo(page, guitar, { id: idNumber(20), basis: 4 }))).toMatchObject({
      done: true,
      saved: { revision: 5, undo: "to 1", text: documentNumber(1) },
    });
  });

  it("adds beside what is there and replaces nothing", async () => {
    const folder = scratchFolder();
    const store = await filled(folder);
    value(store.make(page, { id: idNumber(2), text: documentNumber(3), cause: "made" }));
    const before = value(store.state(guitar));
    const one = await zipped(store, guitar);
    const [card] = value(await bringIn(store, one));
    expect(card?.id).not.toBe(guitar);
    expect(store.cards()).toHaveLength(3);
    expect(value(store.state(guitar))).toEqual(before);
    expect(value(store.state(card?.id ?? ""))).toEqual({ ...before, id: card?.id });
    expect(store.archive(idNumber(9))).toMatchObject({ trouble: { code: "absent" } });
  });

  it("can be read without this program: each document as it stands, by its name", async () => {
    const store = await filled(scratchFolder());
    const files = unzipSync(await zipped(store));
    expect(strFromU8(files["documents/Small ladder 0.fairbout.json"] ?? new Uint8Array())).toBe(
      documentNumber(0),
    );
    expect(Object.keys(files).at(-1)).toBe("manifest.json");
  });

  it("changes nothing when any part of it is broken, left out, added or made up", async () => {
    const source = await filled(scratchFolder());
    const whole = await zipped(source);
    const files = unzipSync(whole);
    const id = `instruments/${guitar}.json`;
    const textOf = (name: string) => strFromU8(files[name] ?? new Uint8Array());
    /** The archive with entries changed, and a manifest that says it is so. */
    const forged = (changed: Readonly<Record<string, string>>) => {
      const manifest = JSON.parse(textOf("manifest.json"));
      for (const [name, text] of Object.entries(changed))
        manifest.files[name] = { bytes: Buffer.byteLength(text), sha256: sha256(text) };
      const entries = Object.entries(changed).map(([name, text]) => [name, strToU8(text)] as const);
      return zipSync({
        ...files,
        "manifest.json": strToU8(JSON.stringify(manifest)),
        ...Object.fromEntries(entries),
      });
    };
    const history = (change: (one: { revisions: Record<string, unknown>[] }) => void) => {
      const one = JSON.parse(textOf(id));
      change(one);
      return forged({ [id]: JSON.stringify(one) });
    };
    const { [id]: _, ...without } = files;
    const flipped = (at: number) => {
      const bytes = Buffer.from(whole);
      bytes[at] = (bytes[at] ?? 0) ^ 0x10;
      return bytes;
    };
    const photoAt = Buffer.from(whole).indexOf(photoBytes.subarray(0, 50));
    const good = documentNumber(0);
    const bad = good.replace('"hand": "right"', '"hand": "wrong"');
    const badTexts = textOf("texts.jsonl")
      .replace(JSON.stringify(good), () => JSON.stringify(bad))
      .replaceAll(sha256(good), sha256(bad));
    const badHistory = textOf(id).replaceAll(sha256(good), sha256(bad));
    const cases: readonly (readonly [what: string, bytes: Uint8Array, why: RegExp])[] = [
      ["nothing", new Uint8Array(0), /no whole zip/],
      ["no zip", Buffer.from("no zip at all".repeat(100)), /no whole zip/],
      ["a zip of something else", zipSync({ "a.txt": strToU8("a") }), /no manifest/],
      ["cut short", whole.subarray(0, whole.length - 100), /no whole zip/],
      ["without its history", zipSync(without), /what its manifest says/],
      ["with a file of nobody's", zipSync({ ...files, "x.txt": strToU8("x") }), /what its manifest says/],
      [
        "a byte of the photo",
        flipped(photoAt + 700),
        /attachments\/[0-9a-f]+ in it is not as it was written/,
      ],
      [
        "a text that is another",
        forged({ "texts.jsonl": textOf("texts.jsonl").replace("mm", "cm") }),
        /a document/,
      ],
      [
        "a document with a fault",
        forged({ "texts.jsonl": badTexts, [id]: badHistory }),
        /Small ladder 0: .* faults/,
      ],
      ["a gap", history(({ revisions: [, second] }) => Object.assign(second ?? {}, { number: 7 })), /a gap/],
      [
        "an undo to nowhere",
        history(({ revisions }) => Object.assign(revisions[3] ?? {}, { state: 3 })),
        /hang together/,
      ],
      [
        "a text left out",
        history(({ revisions }) => Object.assign(revisions[1] ?? {}, { text: sha256("") })),
        /misses/,
      ],
      [
        "a newer form",
        zipSync({ ...files, "manifest.json": strToU8(textOf("manifest.json").replace("@1", "@9")) }),
        /no manifest/,
      ],
      [
        "a keepsake of nothing",
        forged({ [id]: textOf(id).replace('"revision": 1', '"revision": 44') }),
        /keepsake/,
      ],
    ];
    const folder = scratchFolder();
    const store = openScratch(folder);
    value(store.make(page, { id: guitar, text: documentNumber(5), cause: "made" }));
    const before = await digestOf(folder);
    const lay = () => readdirSync(folder, { recursive: true }).sort();
    const files0 = lay();
    for (const [what, bytes, why] of cases) {
      const answer = await bringIn(store, bytes);
      expect(answer, what).toMatchObject({ ok: false });
      if (!answer.ok) expect(answer.trouble.message, what).toMatch(why);
      expect(await digestOf(folder), what).toBe(before);
      expect(lay(), what).toEqual(files0);
    }
    expect((await bringIn(store, whole)).ok).toBe(true);
  });
});
