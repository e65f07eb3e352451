import { readFileSync } from "node:fs";
import { runInNewContext } from "node:vm";
import { describe, expect, it } from "vitest";

const source = readFileSync(new URL("./pageKeeper.js", import.meta.url), "utf8");
const home = "http://127.0.0.1:4000";

type Listener = (event: { request?: unknown; waitUntil?: unknown; respondWith?: unknown }) => void;

/** The keeper in a browser made of maps. `server` answers a path, or throws when it is away. */
function keeper(version: string, files: string[], server: (path: string) => Response, stores = new Map()) {
  const listeners: Record<string, Listener> = {};
  const pathOf = (what: string | { url: string }): string =>
    new URL(typeof what === "string" ? what : what.url, home).pathname;
  const open = async (name: string) => {
    const store: Map<string, Response> = stores.get(name) ?? new Map();
    stores.set(name, store);
    return {
      match: async (what: string) => store.get(pathOf(what)),
      addAll: async (requests: { url: string }[]) => {
        for (const request of requests) store.set(pathOf(request), server(pathOf(request)));
      },
    };
  };
  runInNewContext(
    source
      .replace('const version = "";', `const version = "${version}";`)
      .replace("const files = [];", `const files = ${JSON.stringify(files)};`),
    {
      URL,
      AbortSignal,
      Response,
      Request: class {
        readonly url: string;
        constructor(url: string) {
          this.url = url;
        }
      },
      location: { origin: home },
      addEventListener: (kind: string, listener: Listener) => {
        listeners[kind] = listener;
      },
      skipWaiting: async () => {},
      clients: { claim: async () => {} },
      fetch: async (what: string | { url: string }) => server(pathOf(what)),
      caches: {
        open,
        keys: async () => [...stores.keys()],
        delete: async (name: string) => stores.delete(name),
        match: async (what: string) =>
          [...stores.values()].map((store) => store.get(pathOf(what))).find((kept) => kept !== undefined),
      },
    },
  );
  const waited = (kind: string) =>
    new Promise((resolve) => listeners[kind]?.({ waitUntil: (work: Promise<unknown>) => resolve(work) }));
  /** What a page gets; null: the keeper keeps out of it. */
  const asks = async (path: string, how: { mode?: string; method?: string } = {}): Promise<string | null> => {
    let answer: Promise<Response> | null = null;
    listeners["fetch"]?.({
      request: { url: new URL(path, home).href, method: "GET", mode: "no-cors", ...how },
      respondWith: (given: Promise<Response>) => {
        answer = given;
      },
    });
    const given = (await answer) as Response | null;
    return given === null ? null : given.type === "error" ? "error" : given.clone().text();
  };
  return { install: () => waited("install"), activate: () => waited("activate"), asks, stores };
}

const files = ["/assets/index-AAAAAAAA.js", "/", "/mark.svg"];
const told = (words: string) => (path: string) => new Response(`${words} ${path}`);

describe("the page's keeper", () => {
  it("shows the server's page while there is one, and the kept one while it is away or fails", async () => {
    let server: (path: string) => Response = told("old");
    const kept = keeper("1", files, (path) => server(path));
    await kept.install();
    server = told("new");
    expect(await kept.asks("/?instrument=1", { mode: "navigate" })).toBe("new /");
    server = () => {
      throw new TypeError("away");
    };
    expect(await kept.asks("/?instrument=1", { mode: "navigate" })).toBe("old /");
    expect(await kept.asks("/assets/index-AAAAAAAA.js")).toBe("old /assets/index-AAAAAAAA.js");
    server = () => new Response("broken", { status: 500 });
    expect(await kept.asks("/", { mode: "navigate" })).toBe("old /");
  });

  it("keeps out of everything below /api, of changes and of other origins", async () => {
    const kept = keeper("1", files, told("x"));
    await kept.install();
    for (const path of ["/api/bench", "/api", "/api/events", "/api/instruments/1"])
      expect(await kept.asks(path)).toBeNull();
    expect(await kept.asks("/", { method: "POST" })).toBeNull();
    expect(await kept.asks("http://elsewhere.test/mark.svg")).toBeNull();
    for (const store of kept.stores.values())
      expect([...store.keys()].filter((path: string) => path.startsWith("/api"))).toEqual([]);
  });

  it("is not installed where one file cannot be had, so that it never shows half a page", async () => {
    const kept = keeper("1", files, () => {
      throw new TypeError("away");
    });
    await expect(kept.install()).rejects.toThrow("away");
  });

  it("keeps the version before for pages that are still open, and none older", async () => {
    const stores = new Map();
    for (const version of ["1", "2", "3"]) {
      const kept = keeper(version, files, told(version), stores);
      await kept.install();
      await kept.activate();
    }
    expect([...stores.keys()]).toEqual(["fairbout-page-2", "fairbout-page-3"]);
    const newest = keeper("3", files, told("server"), stores);
    expect(await newest.asks("/mark.svg")).toBe("3 /mark.svg");
  });
});
