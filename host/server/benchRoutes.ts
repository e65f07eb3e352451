import { Hono } from "hono";
import { type BenchState, limits, preferences } from "#host/api";
import type { Door } from "#host/lan";
import type { Store } from "#host/store";
import { answer, refuse } from "./answer.ts";
import type { Events } from "./events.ts";
import { type Example, exampleLines } from "./examples.ts";
import { instrumentRoutes } from "./instrumentRoutes.ts";
import { lanRoutes } from "./lanRoutes.ts";
import { bodyBytes, bodyChunks, bodyFault, jsonBody } from "./readBody.ts";

export interface Bench {
  readonly store: Store;
  readonly events: Events;
  readonly version: string;
  readonly examples: readonly Example[];
  /** The door to the shop's network; null: whoever asks came through it. */
  readonly door: Door | null;
}

/** Everything below /api. */
export function benchRoutes({ store, events, version, examples, door }: Bench): Hono {
  const app = new Hono();
  if (door !== null) app.route("/lan", lanRoutes(door));
  app.get("/bench", (c) => {
    const state: BenchState = {
      version,
      instruments: store.cards(),
      examples: exampleLines(examples),
      preferences: store.preferences(),
      notices: store.notices(),
    };
    return c.json(state, 200, { "cache-control": "no-store" });
  });
  app.get("/examples/:file", (c) => {
    const example = examples.find(({ file }) => file === c.req.param("file"));
    return example === undefined
      ? refuse(c, 404, { code: "absent", message: "There is no such example." })
      : c.body(example.text, 200, { "content-type": "application/json", "cache-control": "no-cache" });
  });
  app.route("/instruments", instrumentRoutes(store, events));
  app.get("/results/:key", (c) => {
    const bytes = store.result(c.req.param("key"));
    return bytes === null
      ? refuse(c, 404, { code: "absent", message: "There is no such result." })
      : c.body(new Uint8Array(bytes), 200, {
          "content-type": "application/octet-stream",
          "cache-control": "no-store",
        });
  });
  app.put("/results/:key", async (c) => {
    if (!/^[a-z0-9-]{1,80}$/.test(c.req.param("key")))
      return refuse(c, 422, { code: "request", message: "A result's key has 1 to 80 of a-z, 0-9 and -." });
    const bytes = await bodyBytes(c, limits.result);
    if (!bytes.ok) return bytes.answer;
    const kept = store.keepResult(c.req.param("key"), bytes.value);
    return kept.ok ? c.body(null, 204) : answer(c, kept);
  });
  app.get("/preferences", (c) => c.json(store.preferences(), 200, { "cache-control": "no-store" }));
  app.put("/preferences", async (c) => {
    const body = await jsonBody(c, preferences, limits.request);
    return body.ok ? answer(c, store.setPreferences(body.value)) : body.answer;
  });
  app.get("/backups", (c) => c.json(store.backups(), 200, { "cache-control": "no-store" }));
  app.post("/backups", async (c) => answer(c, await store.backup(), 201));
  app.get("/archive", (c) => {
    const archive = store.archive(c.req.query("instrument"));
    if (!archive.ok) return answer(c, archive);
    const day = store.now().slice(0, 10);
    return c.body(ReadableStream.from(archive.value), 200, {
      "content-type": "application/zip",
      "content-disposition": `attachment; filename="fairbout-${day}.zip"`,
      "cache-control": "no-store",
    });
  });
  app.post("/archive", async (c) => {
    const fault = bodyFault(c, limits.archive);
    if (fault !== null) return fault;
    const kept = await store.bringIn(bodyChunks(c));
    if (!kept.ok) return answer(c, kept);
    events.send({ kind: "list" });
    return c.json({ instruments: kept.value }, 201, { "cache-control": "no-store" });
  });
  app.get("/events", (c) =>
    c.body(events.stream(), 200, { "content-type": "text/event-stream", "cache-control": "no-store" }),
  );
  return app;
}
