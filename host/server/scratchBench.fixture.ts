/** A bench without a port, on a scratch folder with a scratch page. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Hono } from "hono";
import { onTestFinished } from "vitest";
import { pageHeader } from "#host/api";
import { openStore, type Store } from "#host/store";
import { benchApp } from "./benchApp.ts";
import { openEvents } from "./events.ts";
import { readExamples } from "./examples.ts";
import { denied, loopbackNames } from "./guard.ts";
import { pageFiles } from "./pageFiles.ts";

const names = loopbackNames(4711);
const host = "127.0.0.1:4711";
export const base = `http://${host}`;

export interface ScratchBench {
  readonly app: Hono;
  readonly store: Store;
  /** Faults of our own that were met. */
  readonly faults: unknown[];
  ask(
    method: string,
    path: string,
    body?: unknown,
    headers?: Readonly<Record<string, string>>,
  ): Promise<Response>;
}

/** Writes a page with a long script that bears its hash. */
export function scratchPage(folder: string): string {
  const app = join(folder, "app");
  mkdirSync(join(app, "assets"), { recursive: true });
  writeFileSync(join(app, "index.html"), `<!doctype html><title>bench</title>${"<p>bench</p>".repeat(200)}`);
  writeFileSync(join(app, "sw.js"), "// nothing\n".repeat(200));
  writeFileSync(join(app, "assets", "main-Ab12_-9z.js"), "console.log('bench');\n".repeat(200));
  writeFileSync(join(app, "built-from"), "a mark of the build");
  writeFileSync(join(folder, "secret.txt"), "not for the page");
  return app;
}

export function scratchBench(folder: string): ScratchBench {
  const opened = openStore({ folder, clock: () => new Date() });
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  const events = openEvents();
  const faults: unknown[] = [];
  const app = benchApp({
    store,
    events,
    version: "0.0.0",
    examples: readExamples(),
    page: pageFiles(scratchPage(folder)),
    door: null,
    guard: (asking) => denied(asking, names, "http"),
    fault: (error) => faults.push(error),
  });
  onTestFinished(async () => {
    events.close();
    await store.close();
  });
  return {
    app,
    store,
    faults,
    ask: async (method, path, body, headers = {}) =>
      app.request(`${base}${path}`, {
        method,
        headers: {
          host,
          ...(method === "GET" ? {} : { [pageHeader]: "page-a", "content-type": "application/json" }),
          ...headers,
        },
        ...(body === undefined
          ? {}
          : { body: typeof body === "string" || body instanceof Uint8Array ? body : JSON.stringify(body) }),
      }),
  };
}
