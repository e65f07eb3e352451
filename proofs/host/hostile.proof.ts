/**
 * Requests as a hostile page, a broken program or a torn file would send them: the server does not fall over, answers none with 5xx,
 * and writes nothing unless what came was valid after all. What is tried follows the OWASP cheat sheets on cross-site request
 * forgery, input validation and file upload, and path traversal (from memory).
 */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { expect, it, onTestFinished } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { seededRandom } from "#engine/numerics";
import { pageHeader, routes } from "#host/api";
import { startServer } from "#host/server";
import { base, scratchBench } from "../../host/server/scratchBench.fixture.ts";
import {
  type Dice,
  makeDice,
  places,
  spoiledBytes,
  spoiledJson,
  spoiledText,
  straying,
} from "./mutations.fixture.ts";

const seed = Number(process.env["FAIRBOUT_HOSTILE_SEED"] ?? 11);
const ladder = readFileSync(
  join(import.meta.dirname, "..", "..", "examples", "small-ladder.fairbout.json"),
  "utf8",
);
const ladderJson: unknown = JSON.parse(ladder);
const ladderPlaces = places(ladderJson);
const id = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, "0")}`;
const guitar = id(1);

interface Sent {
  readonly path: string;
  readonly method: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
  /** Whether it may be taken: asked only where it was. */
  readonly valid: () => boolean;
}

function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-hostile-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }));
  return folder;
}

/** A bench with an instrument on it, and a way to send it something and see what became of it. */
async function attacked() {
  const folder = scratchFolder();
  const { ask, app, faults, store } = scratchBench(folder);
  const made = await ask("POST", routes.instruments, { id: guitar, text: ladder, cause: "begun" });
  expect(made.status).toBe(201);
  const archive = await ask("GET", routes.archive());
  // changes whenever another connection than this one commits
  const watch = new Database(join(folder, "fairbout.sqlite"), { readonly: true });
  onTestFinished(() => {
    watch.close();
  });
  const version = () => watch.pragma("data_version", { simple: true });
  let last = version();
  const wrongs: string[] = [];
  const statuses = new Map<number, number>();
  const send = async ({ path, method, headers, body, valid }: Sent): Promise<void> => {
    const told = `${method} ${path.slice(0, 80)} ${String(body ?? "").slice(0, 300)}`;
    let request: Request;
    try {
      request = new Request(`${base}${path}`, { method, headers, ...(body === undefined ? {} : { body }) });
    } catch {
      return; // no client could send it
    }
    const response = await app.request(request);
    const { status } = response;
    statuses.set(status, (statuses.get(status) ?? 0) + 1);
    const said = status === 200 && path.startsWith(routes.events) ? "" : await response.text();
    if (status >= 500) wrongs.push(`${status}: ${told}`);
    if (said.includes("not for the page") || said.includes("SQLite format"))
      wrongs.push(`handed out: ${told}`);
    if (status >= 400 && (JSON.parse(said) as { message?: string }).message === undefined)
      wrongs.push(`no words: ${told}`);
    const now = version();
    const wrote = now !== last;
    last = now;
    // a conflict keeps what was sent, so it must be valid as well
    const taken = status < 300 || status === 409;
    if (wrote && !taken) wrongs.push(`wrote at ${status}: ${told}`);
    if (taken && method !== "GET" && !valid()) wrongs.push(`took: ${told}`);
  };
  return { send, wrongs, statuses, faults, store, archive: new Uint8Array(await archive.arrayBuffer()) };
}

const own = { host: "127.0.0.1:4711", [pageHeader]: "page-a", "content-type": "application/json" };

/**
 * An edit with a document that was spoiled as text or as a value. One cut in fourteen leaves a sound document, which takes long
 * to be found so; most are therefore spoiled two or three times over.
 */
function spoiledDocument(dice: Dice, n: number): Sent {
  const kind = dice.random();
  let text =
    kind < 0.15 ? JSON.stringify(spoiledJson(ladderJson, dice, ladderPlaces)) : spoiledText(ladder, dice);
  if (kind > 0.25)
    for (let more = 1 + dice.below(2); more > 0; more--) text = spoiledText(text || ladder, dice);
  return {
    path: routes.edits(guitar),
    method: "POST",
    headers: own,
    body: JSON.stringify({ id: id(1000 + n), basis: 1, text, cause: "spoiled" }),
    valid: () => checkInstrument(text).ok,
  };
}

/** Sound requests of every kind, each with its route; the documents in them are no documents, so none may be taken as it stands. */
const requests: readonly (readonly [path: string, method: string, body: unknown])[] = [
  [routes.instruments, "POST", { id: id(7), text: "{}", cause: "begun" }],
  [routes.edits(guitar), "POST", { id: id(8), basis: 1, text: "{}", cause: "edit" }],
  [routes.undo(guitar), "POST", { id: id(9), basis: 1 }],
  [routes.redo(guitar), "POST", { id: id(10), basis: 1 }],
  [routes.restore(guitar), "POST", { id: id(11), basis: 1, revision: 99_999_999, cause: "back" }],
  [routes.keepsakes(guitar), "POST", { id: id(12), name: "first", revision: 99_999_999 }],
  [routes.away(guitar), "PUT", { away: "perhaps" }],
  [routes.preferences, "PUT", { units: "cubits", light: "day" }],
];

/** A request with its body or its address spoiled. The bodies were refused before they were spoiled. */
function spoiledRequest(dice: Dice): Sent {
  const [path, method, sound] = dice.pick(requests);
  const kind = dice.below(4);
  const body =
    kind === 0 ? spoiledText(JSON.stringify(sound), dice) : JSON.stringify(spoiledJson(sound, dice));
  return {
    path:
      kind === 1
        ? path.replace(guitar, encodeURIComponent(spoiledText(guitar, dice).replace(/\p{Surrogate}/gu, "")))
        : path,
    method,
    headers: own,
    body,
    // a conflict of undo, redo or restore writes nothing; that none of these writes is what is tried here
    valid: () => /\/(undo|redo|restore)$/.test(path),
  };
}

/** A sound request that comes from where it should not, by a way that it should not. */
function foreignRequest(dice: Dice): Sent {
  const [path, method] = dice.pick(requests);
  const host = dice.pick([
    "evil.example",
    "127.0.0.1",
    "127.0.0.1:80",
    "localhost.evil.example:4711",
    "0:4711",
    "[::]:4711",
  ]);
  const origin = dice.pick([
    "http://evil.example",
    "null",
    "https://127.0.0.1:4711",
    "http://127.0.0.1:4712",
    "file://",
  ]);
  const site = dice.pick(["cross-site", "same-site", "bogus"]);
  const type = dice.pick([
    "text/plain",
    "application/x-www-form-urlencoded",
    "multipart/form-data; boundary=x",
    "",
  ]);
  const headers: Record<string, string> = { ...own };
  const kind = dice.below(6);
  if (kind === 0) headers["host"] = host;
  if (kind === 1) headers["origin"] = origin;
  if (kind === 2) headers["sec-fetch-site"] = site;
  if (kind === 3) delete headers[pageHeader];
  if (kind === 4) headers["content-type"] = type;
  return {
    path,
    method: kind === 5 ? dice.pick(["DELETE", "PATCH", "OPTIONS", "PROPFIND"]) : method,
    headers,
    // this one is sound in all else, and would be taken
    body: JSON.stringify({ id: id(20), text: ladder, cause: "begun" }),
    valid: () => false,
  };
}

function strayingRequest(dice: Dice): Sent {
  const { "content-type": _, ...headers } = own;
  const path = straying(dice);
  return { path, method: "GET", headers, valid: () => false };
}

it(`takes no harm from 20,000 spoiled documents and 6,000 requests, and writes none of them (seed ${seed})`, async () => {
  const dice = makeDice(seededRandom(seed));
  const { send, wrongs, statuses, faults, store } = await attacked();
  for (let n = 0; n < 20_000 && wrongs.length < 10; n++) {
    await send(spoiledDocument(dice, n));
    if (n % 10 === 0) await send(foreignRequest(dice));
    if (n % 10 === 1) await send(spoiledRequest(dice));
    if (n % 10 === 2) await send(strayingRequest(dice));
  }
  expect(wrongs).toEqual([]);
  expect(faults).toEqual([]);
  // each kind of refusal was met, often
  for (const status of [400, 403, 404, 405, 415, 421, 422])
    expect(statuses.get(status) ?? 0, String(status)).toBeGreaterThan(50);
  // and the bench still does what it is for
  const { revision } = store.state(guitar).ok ? okState(store.state(guitar)) : { revision: 0 };
  const edit = { id: id(999_999), basis: revision, text: ladder, cause: "after all that" };
  expect(store.edit("page-a", guitar, edit)).toMatchObject({ ok: true, value: { done: true } });
}, 1_800_000);

function okState<T>(kept: { readonly ok: true; readonly value: T } | { readonly ok: false }): T {
  if (!kept.ok) throw new Error("not there");
  return kept.value;
}

it(`brings in none of 1,500 spoiled files unless it is whole all the same (seed ${seed})`, async () => {
  const dice = makeDice(seededRandom(seed + 1));
  const { send, wrongs, statuses, faults, store, archive } = await attacked();
  const before = okState(store.state(guitar));
  for (let n = 0; n < 1500; n++) {
    const body = spoiledBytes(archive, dice);
    await send({
      path: routes.archive(),
      method: "POST",
      headers: { ...own, "content-type": "application/zip" },
      body,
      valid: () => true,
    });
  }
  expect(wrongs).toEqual([]);
  expect(faults).toEqual([]);
  expect(statuses.get(422)).toBeGreaterThan(1000);
  expect(okState(store.state(guitar))).toEqual(before);
  // what did come in (a date or a hint in the zip was spoiled, which nobody reads) is the instrument to the letter
  for (const card of store.cards()) {
    const { text, revision } = okState(store.state(card.id));
    expect([text, revision]).toEqual([before.text, before.revision]);
  }
});

it(`lives through 600 spoiled requests on a real socket (seed ${seed})`, async () => {
  const dice = makeDice(seededRandom(seed + 2));
  const faults: unknown[] = [];
  const folder = scratchFolder();
  const server = await startServer({ folder, port: 0, app: folder, fault: (error) => faults.push(error) });
  try {
    const host = `127.0.0.1:${server.port}`;
    const body = JSON.stringify({ id: id(30), text: "{}", cause: "begun" });
    const head = [
      "POST /api/instruments HTTP/1.1",
      `Host: ${host}`,
      `Origin: http://${host}`,
      "Sec-Fetch-Site: same-origin",
      "Content-Type: application/json",
      "Fairbout-Page: page-a",
      `Content-Length: ${body.length}`,
      "Connection: close",
    ].join("\r\n");
    const sound = Buffer.from(`${head}\r\n\r\n${body}`);
    const statuses: string[] = [];
    for (let n = 0; n < 600; n += 20) {
      const some = Array.from({ length: 20 }, () => spoken(server.port, spoiledBytes(sound, dice)));
      statuses.push(...(await Promise.all(some)));
    }
    expect(statuses.filter((status) => status.startsWith("5"))).toEqual([]);
    expect(statuses.filter((status) => status === "400").length).toBeGreaterThan(50);
    expect(await (await fetch(`${server.address}api/bench`)).json()).toMatchObject({ instruments: [] });
    expect(faults).toEqual([]);
  } finally {
    await server.close();
  }
});

/** Says bytes to a port, then nothing more; gives the status of the answer, or "" if the server just hung up. */
const spoken = (port: number, bytes: Uint8Array): Promise<string> =>
  new Promise((resolve) => {
    let got = "";
    const socket = connect(port, "127.0.0.1", () => socket.end(bytes));
    socket.on("data", (part) => {
      got += part.toString("latin1");
    });
    socket.on("error", () => {});
    socket.on("close", () => resolve(got.split(" ")[1] ?? ""));
  });
