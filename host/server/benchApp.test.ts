import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { describe, expect, it, onTestFinished } from "vitest";
import type { BenchState, InstrumentState } from "#host/api";
import { limits, routes } from "#host/api";
import { scratchBench } from "./scratchBench.fixture.ts";

const ladder = readFileSync(new URL("../../examples/small-ladder.fairbout.json", import.meta.url), "utf8");
const named = (n: number) => ladder.replace('"Small ladder"', `"Small ladder ${n}"`);
const id = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, "0")}`;

function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-server-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

describe("the bench over HTTP", () => {
  it("tells what there is: examples with a line about each, preferences, instruments", async () => {
    const { ask } = scratchBench(scratchFolder());
    const state = (await (await ask("GET", routes.bench)).json()) as BenchState;
    expect(state).toMatchObject({
      instruments: [],
      notices: [],
      preferences: { units: "metric", light: "system" },
    });
    expect(state.examples.map(({ name }) => name)).toEqual(["Cross-braced", "Low radial", "Small ladder"]);
    for (const { file, about } of state.examples) {
      expect(about).not.toBe("");
      const text = await (await ask("GET", routes.example(file))).text();
      expect(JSON.parse(text)).toHaveProperty("format");
    }
    expect((await ask("GET", routes.example("../package.json"))).status).toBe(404);
    const preferences = { units: "inch", light: "day" };
    expect(await (await ask("PUT", routes.preferences, preferences)).json()).toEqual(preferences);
    expect(await (await ask("GET", routes.preferences)).json()).toEqual(preferences);
  });

  it("makes, edits, undoes, redoes and restores, and keeps both of two pages", async () => {
    const { ask } = scratchBench(scratchFolder());
    const guitar = id(1);
    const text = named(0);
    const made = await ask("POST", routes.instruments, { id: guitar, text, cause: "begun" });
    expect(made.status).toBe(201);
    expect(await made.json()).toMatchObject({ name: "Small ladder 0", revision: 1, text });
    const edit = { id: id(2), basis: 1, text: named(1), cause: "name" };
    const answers = [
      await ask("POST", routes.edits(guitar), edit),
      await ask("POST", routes.edits(guitar), edit),
    ];
    for (const answer of answers)
      expect(await answer.json()).toEqual({ revision: 2, undo: "name", redo: null });
    const late = await ask("POST", routes.edits(guitar), { ...edit, id: id(3), text: named(2) });
    expect(late.status).toBe(409);
    expect(await late.json()).toMatchObject({
      code: "conflict",
      current: { revision: 2 },
      aside: { revision: 3 },
    });
    const undone = await ask("POST", routes.undo(guitar), { id: id(4), basis: 2 });
    expect(await undone.json()).toMatchObject({ revision: 4, redo: "name", text });
    const redone = await ask("POST", routes.redo(guitar), { id: id(5), basis: 4 });
    expect(await redone.json()).toMatchObject({ revision: 5, text: named(1) });
    const restore = { id: id(6), basis: 5, revision: 3, cause: "mine after all" };
    expect(await (await ask("POST", routes.restore(guitar), restore)).json()).toMatchObject({
      text: named(2),
    });
    const nothing = await ask("POST", routes.redo(guitar), { id: id(7), basis: 6 });
    expect([nothing.status, await nothing.json()]).toMatchObject([422, { code: "nothing-to-redo" }]);
    const keepsake = { id: id(8), name: "as it was", revision: 1 };
    expect((await ask("POST", routes.keepsakes(guitar), keepsake)).status).toBe(201);
    expect(await (await ask("PUT", routes.away(guitar), { away: "yes" })).json()).toMatchObject({
      away: true,
    });
    const state = (await (await ask("GET", routes.instrument(guitar))).json()) as InstrumentState;
    expect(state).toMatchObject({
      revision: 6,
      keepsakes: [{ name: "as it was" }],
      aside: [{ cause: "name" }],
    });
    expect(await (await ask("GET", routes.history(guitar, 3))).json()).toHaveLength(2);
    expect(await (await ask("GET", routes.revision(guitar, 1))).text()).toBe(text);
  });

  it("hands attachments back as what they are, and never as something that runs", async () => {
    const { ask } = scratchBench(scratchFolder());
    const guitar = id(1);
    await ask("POST", routes.instruments, { id: guitar, text: named(0), cause: "begun" });
    const send = async (name: string, type: string) => {
      const sent = await ask("POST", routes.attachments(guitar, name), `bytes of ${name}`, {
        "content-type": type,
      });
      const { id: attachment } = (await sent.json()) as { id: string };
      return ask("GET", routes.attachment(guitar, attachment));
    };
    const sound = await send("tap 1 (wet).wav", "audio/wav");
    expect(sound.headers.get("content-type")).toBe("audio/wav");
    expect(sound.headers.get("content-disposition")).toBe("inline; filename*=UTF-8''tap%201%20%28wet%29.wav");
    expect(await sound.text()).toBe("bytes of tap 1 (wet).wav");
    for (const type of ["text/html", "image/svg+xml", "application/javascript", "nonsense; x"]) {
      const page = await send("page.html", type);
      expect(page.headers.get("content-type")).toBe("application/octet-stream");
      expect(page.headers.get("content-disposition")).toMatch(/^attachment/);
      expect(page.headers.get("content-security-policy")).toBe("default-src 'none'; sandbox");
      expect(page.headers.get("x-content-type-options")).toBe("nosniff");
    }
    const away = await ask("POST", routes.attachments(id(9), "a"), "x");
    expect(away.status).toBe(404);
    expect((await ask("POST", routes.attachments(guitar, "a\u0000b"), "x")).status).toBe(422);
  });

  it("hands out one file with everything and brings it in beside", async () => {
    const { ask } = scratchBench(scratchFolder());
    await ask("POST", routes.instruments, { id: id(1), text: named(0), cause: "begun" });
    const out = await ask("GET", routes.archive());
    expect(out.headers.get("content-type")).toBe("application/zip");
    expect(out.headers.get("content-disposition")).toMatch(
      /^attachment; filename="fairbout-\d{4}-\d\d-\d\d\.zip"$/,
    );
    const bytes = new Uint8Array(await out.arrayBuffer());
    const back = await ask("POST", routes.archive(), bytes);
    expect(back.status).toBe(201);
    expect(await back.json()).toMatchObject({ instruments: [{ name: "Small ladder 0", revision: 1 }] });
    const state = (await (await ask("GET", routes.bench)).json()) as BenchState;
    expect(state.instruments).toHaveLength(2);
    expect((await ask("GET", routes.archive(id(7)))).status).toBe(404);
    const broken = await ask("POST", routes.archive(), bytes.slice(100));
    expect([broken.status, await broken.json()]).toMatchObject([422, { code: "archive" }]);
    expect((await ask("POST", routes.backups)).status).toBe(201);
    expect(await (await ask("GET", routes.backups)).json()).toMatchObject([{ tested: true }]);
  });

  it("keeps results by their key", async () => {
    const { ask } = scratchBench(scratchFolder());
    expect((await ask("GET", routes.result("voice-1"))).status).toBe(404);
    expect((await ask("PUT", routes.result("voice-1"), new Uint8Array([1, 2, 3]))).status).toBe(204);
    const read = await ask("GET", routes.result("voice-1"));
    expect(new Uint8Array(await read.arrayBuffer())).toEqual(new Uint8Array([1, 2, 3]));
    expect((await ask("PUT", "/api/results/Voice_1", "x")).status).toBe(422);
  });

  it("tells other pages what one did", async () => {
    const { ask } = scratchBench(scratchFolder());
    const heard = await ask("GET", routes.events);
    expect(heard.headers.get("content-type")).toBe("text/event-stream");
    const reader = heard.body?.getReader();
    const next = async () => new TextDecoder().decode((await reader?.read())?.value as Uint8Array);
    expect(await next()).toBe("retry: 1000\n\n");
    await ask("POST", routes.instruments, { id: id(1), text: named(0), cause: "begun" });
    expect(await next()).toBe('data: {"kind":"list"}\n\n');
    await ask("POST", routes.edits(id(1)), { id: id(2), basis: 1, text: named(1), cause: "name" });
    expect(JSON.parse((await next()).slice(6))).toEqual({
      kind: "changed",
      instrument: id(1),
      revision: 2,
      by: "page-a",
    });
    await reader?.cancel();
  });

  it("refuses in words what is not as it should be, before it reads what is too large", async () => {
    const { ask, faults } = scratchBench(scratchFolder());
    const request = { id: id(1), text: named(0), cause: "begun" };
    const refused = async (status: number, code: string, answer: Promise<Response>) => {
      const response = await answer;
      const body = (await response.json()) as { code: string; message: string };
      expect([response.status, body.code]).toEqual([status, code]);
      expect(body.message.length).toBeGreaterThan(10);
      return body;
    };
    await refused(400, "json", ask("POST", routes.instruments, "{"));
    await refused(400, "json", ask("POST", routes.instruments, new Uint8Array([0x22, 0xff, 0x22])));
    await refused(415, "type", ask("POST", routes.instruments, request, { "content-type": "text/plain" }));
    await refused(415, "encoding", ask("POST", routes.instruments, request, { "content-encoding": "gzip" }));
    const length = { "content-length": String(2 * limits.document + 1) };
    await refused(413, "too-large", ask("POST", routes.instruments, request, length));
    await refused(413, "too-large", ask("PUT", routes.preferences, `"${"x".repeat(limits.request)}"`));
    for (const wrong of [
      { ...request, id: "1" },
      { ...request, cause: " " },
      { ...request, cause: "two\nlines" },
      { ...request, cause: "half a \ud800" },
      { ...request, extra: 1 },
      { id: request.id, text: request.text },
      [request],
      null,
    ]) {
      const body = await refused(422, "request", ask("POST", routes.instruments, wrong));
      expect(body).toHaveProperty("issues");
    }
    const broken = await refused(
      422,
      "document",
      ask("POST", routes.instruments, { ...request, text: "{}" }),
    );
    expect(broken).toHaveProperty("issues");
    await refused(404, "absent", ask("GET", "/api/nothing"));
    await refused(404, "absent", ask("GET", routes.instrument(id(5))));
    await refused(404, "absent", ask("GET", routes.revision(id(5), 0)));
    await refused(405, "method", ask("DELETE", routes.instrument(id(1))));
    await refused(403, "page", ask("POST", routes.instruments, request, { "fairbout-page": "" }));
    expect(faults).toEqual([]);
  });
});

describe("the page's files", () => {
  it("come compressed as the browser likes it best, and only what was built is handed out", async () => {
    const { ask } = scratchBench(scratchFolder());
    const script = "/assets/main-Ab12_-9z.js";
    const plain = Buffer.from(await (await ask("GET", script)).arrayBuffer());
    const br = await ask("GET", script, undefined, { "accept-encoding": "gzip, deflate, br" });
    expect(br.headers.get("content-encoding")).toBe("br");
    expect(brotliDecompressSync(Buffer.from(await br.arrayBuffer()))).toEqual(plain);
    const gzip = await ask("GET", script, undefined, { "accept-encoding": "br;q=0, gzip;q=0.5" });
    expect(gzip.headers.get("content-encoding")).toBe("gzip");
    expect(gunzipSync(Buffer.from(await gzip.arrayBuffer()))).toEqual(plain);
    expect(br.headers.get("cache-control")).toContain("immutable");
    expect(br.headers.get("vary")).toBe("accept-encoding");
    for (const path of ["/", "/sw.js"])
      expect((await ask("GET", path)).headers.get("cache-control")).toBe("no-cache");
    const known = await ask("GET", "/", undefined, {
      "if-none-match": (await ask("GET", "/")).headers.get("etag") ?? "",
    });
    expect([known.status, await known.text()]).toEqual([304, ""]);
    for (const path of ["/built-from", "/assets", "/assets/", "/secret.txt", "/index.html/"])
      expect((await ask("GET", path)).status, path).toBe(404);
  });

  it("say with every answer, good or bad, what the page may do", async () => {
    const { ask } = scratchBench(scratchFolder());
    for (const path of ["/", "/nothing", routes.bench, "/api/nothing", "/%zz"]) {
      const { headers } = await ask("GET", path);
      expect(headers.get("content-security-policy"), path).toContain("default-src 'none'; script-src 'self'");
      expect(headers.get("cross-origin-opener-policy"), path).toBe("same-origin");
      expect(headers.get("cross-origin-embedder-policy"), path).toBe("require-corp");
      expect(headers.get("cross-origin-resource-policy"), path).toBe("same-origin");
      expect(headers.get("x-content-type-options"), path).toBe("nosniff");
      expect(headers.get("referrer-policy"), path).toBe("no-referrer");
      expect(headers.get("permissions-policy"), path).toContain("microphone=(self)");
      expect(headers.get("access-control-allow-origin"), path).toBeNull();
    }
  });
});
