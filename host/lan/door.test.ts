import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { request } from "node:https";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { checkServerIdentity } from "node:tls";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type Door, makeDoor } from "./door.ts";

let folder: string;
let door: Door;
let certificate: string;
const clock = { now: Date.parse("2026-11-26T08:00:00Z") };

/** A loopback address that calls itself a shop's: nothing is opened to a real network by a test. */
const shop = "127.0.0.1";
function make(): Door {
  return makeDoor({
    folder,
    clock: () => new Date(clock.now),
    addresses: () => [shop],
    answer: (host) => (incoming, outgoing) => outgoing.end(`the bench at ${host}, ${incoming.url}`),
    refused: () => false,
    headers: { "x-content-type-options": "nosniff" },
  });
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "fairbout-door-"));
  clock.now = Date.now();
  door = make();
});

afterEach(async () => {
  await door.close();
  rmSync(folder, { recursive: true });
});

interface Reply {
  readonly status: number;
  readonly body: string;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
}

/** Asks over TLS, trusting nobody but the certificate that the door wrote down. */
function ask(
  path: string,
  { method = "GET", body = "", headers = {} as Record<string, string> } = {},
): Promise<Reply> {
  const { host, port, hostname } = new URL(door.state().open!.address);
  return new Promise((settle, fail) => {
    const asked = request(
      {
        hostname,
        port,
        path,
        method,
        ca: certificate,
        headers: { host, ...headers },
        agent: false,
        checkServerIdentity: (_, shown) => checkServerIdentity(hostname, shown),
      },
      (reply) => {
        let text = "";
        reply.on("data", (part) => {
          text += part;
        });
        reply.on("end", () => settle({ status: reply.statusCode!, body: text, headers: reply.headers }));
      },
    );
    asked.on("error", fail);
    asked.end(body);
  });
}

async function openDoor(): Promise<string> {
  const opened = await door.does({ deed: "open", address: shop });
  if (!opened.ok) throw new Error(opened.message);
  certificate = JSON.parse(readFileSync(join(folder, "shop-network.json"), "utf8")).certificate.certificate;
  return opened.state.open!.code!.digits;
}

const pair = (code: string) =>
  ask("/pair", {
    method: "POST",
    body: `code=${code}&name=tablet`,
    headers: { "content-type": "application/x-www-form-urlencoded" },
  });

describe("the door to the shop's network", () => {
  it("is shut at first, and opens on none but this machine's own private addresses", async () => {
    expect(door.state().open).toBeNull();
    for (const address of ["0.0.0.0", "8.8.8.8", "192.168.77.1", ""]) {
      const answer = await door.does({ deed: "open", address });
      expect(answer.ok).toBe(false);
    }
    expect(door.state().open).toBeNull();
  });

  it("answers a stranger with the page to pair by and with nothing else", async () => {
    await openDoor();
    const page = await ask("/");
    expect(page.status).toBe(200);
    expect(page.body).toContain("Pair this tablet");
    for (const path of ["/api/bench", "/assets/index.js", "/../pair", "/api/instruments/x"]) {
      const reply = await ask(path);
      expect(reply.status).toBe(401);
      expect(reply.body).not.toContain("the bench at");
    }
    expect((await ask("/", { headers: { host: "elsewhere.example" } })).status).toBe(421);
    expect((await ask("/api/bench", { headers: { cookie: "__Host-fairbout=guess" } })).status).toBe(401);
  });

  it("lets a tablet in that types the code, and after a restart still knows it", async () => {
    const code = await openDoor();
    const welcomed = await pair(code);
    expect(welcomed.status).toBe(303);
    const crumb = String(welcomed.headers["set-cookie"]);
    for (const word of ["Secure", "HttpOnly", "SameSite=Strict", "Path=/"]) expect(crumb).toContain(word);
    const cookie = crumb.split(";")[0]!;
    expect((await ask("/api/bench", { headers: { cookie } })).body).toContain("the bench at");
    expect((await pair(code)).status).toBe(403);
    await door.close();
    door = make();
    await openDoor();
    expect((await ask("/api/bench", { headers: { cookie } })).body).toContain("the bench at");
    await door.does({ deed: "part", device: door.state().devices[0]!.id });
    expect((await ask("/api/bench", { headers: { cookie } })).status).toBe(401);
  });

  it("refuses wrong codes, codes from another site and forms without end", async () => {
    const code = await openDoor();
    const other = String((Number(code) + 1) % 1e8).padStart(8, "0");
    expect((await pair(other)).status).toBe(403);
    const foreign = await ask("/pair", {
      method: "POST",
      body: `code=${code}`,
      headers: { origin: "https://elsewhere.example" },
    });
    expect(foreign.status).toBe(403);
    const long = await ask("/pair", { method: "POST", body: `code=${"1".repeat(100_000)}` });
    expect(long.status).toBe(413);
    expect(door.state().devices).toEqual([]);
    clock.now += 6 * 60e3;
    expect((await pair(code)).status).toBe(403);
    expect(door.state().open!.code).toBeNull();
  });

  it("shuts at once, and keeps what it holds for this user's eyes only", async () => {
    await openDoor();
    if (process.platform !== "win32")
      expect(statSync(join(folder, "shop-network.json")).mode & 0o077).toBe(0);
    const { address } = door.state().open!;
    await door.does({ deed: "close" });
    expect(door.state().open).toBeNull();
    await expect(fetch(address)).rejects.toThrow();
    expect((await door.does({ deed: "code" })).ok).toBe(false);
  });
});
