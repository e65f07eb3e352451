import { describe, expect, it } from "vitest";
import { type Asking, denied, loopbackNames } from "./guard.ts";

const names = loopbackNames(4711);
const own: Asking = {
  method: "POST",
  host: "127.0.0.1:4711",
  target: "127.0.0.1:4711",
  hostLines: 1,
  origin: "http://127.0.0.1:4711",
  site: "same-origin",
  page: "page-a",
};
const verdict = (change: Partial<Asking>) => denied({ ...own, ...change }, names, "http")?.status ?? null;

describe("who may ask", () => {
  it("is the page of this very address, under each of its names", () => {
    expect(verdict({})).toBeNull();
    for (const host of ["localhost:4711", "[::1]:4711", "LOCALHOST:4711"])
      expect(verdict({ host, origin: `http://${host}` }), host).toBeNull();
  });

  it("may look from a bare command line, and open the page by hand", () => {
    const bare = { method: "GET", origin: null, site: null, page: null };
    expect(verdict(bare)).toBeNull();
    expect(verdict({ ...bare, site: "none" })).toBeNull();
  });

  it("is nobody who asks under another name: that is how a foreign name is bound to this machine", () => {
    const hosts = [
      "evil.example",
      "evil.example:4711",
      "127.0.0.1",
      "127.0.0.1:4712",
      "127.0.0.1:4711.evil.example",
      "127.0.0.1.evil.example:4711",
      "0.0.0.0:4711",
      "127.1:4711",
      "2130706433:4711",
      "[::ffff:127.0.0.1]:4711",
      "localhost.:4711",
      "",
    ];
    for (const host of hosts) expect(verdict({ method: "GET", host, origin: null }), host).toBe(421);
    expect(verdict({ target: "evil.example:4711" })).toBe(421);
    expect(verdict({ host: null })).toBe(400);
    expect(verdict({ hostLines: 2 })).toBe(400);
  });

  it("is nobody from another site, whether it asks or changes", () => {
    const origins = [
      "http://evil.example",
      "null",
      "https://127.0.0.1:4711",
      "http://127.0.0.1:4712",
      "http://localhost:4711",
      "file://",
    ];
    for (const method of ["GET", "POST", "PUT"]) {
      for (const origin of origins) expect(verdict({ method, origin }), `${method} ${origin}`).toBe(403);
      for (const site of ["cross-site", "same-site", "unheard-of"])
        expect(verdict({ method, site, origin: null }), `${method} ${site}`).toBe(403);
    }
  });

  it("bears the id of a page when it changes something, which a foreign page cannot without asking first", () => {
    expect(verdict({ page: null })).toBe(403);
    expect(verdict({ page: "" })).toBe(403);
    expect(verdict({ page: "a b" })).toBe(403);
    expect(verdict({ page: "x".repeat(65) })).toBe(403);
    expect(verdict({ method: "PUT", page: null })).toBe(403);
    expect(verdict({ site: "none" })).toBe(403);
    // the asking first
    expect(verdict({ method: "OPTIONS", origin: "http://evil.example" })).toBe(405);
    for (const method of ["DELETE", "PATCH", "TRACE", "OPTIONS", "PROPFIND"])
      expect(verdict({ method }), method).toBe(405);
  });
});
