import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { request } from "node:http";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { routes } from "#host/api";
import { browsersRefuse, portsToTry } from "./ports.ts";
import { scratchPage } from "./scratchBench.fixture.ts";
import { type RunningServer, type ServerOptions, startServer, tryServer } from "./startServer.ts";
import { storeFolder } from "./storeFolder.ts";

function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fairbout-server-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

async function running(options: ServerOptions): Promise<RunningServer> {
  const server = await startServer(options);
  let closing: Promise<void> | null = null;
  const stop = () => {
    closing ??= server.close();
    return closing;
  };
  onTestFinished(stop);
  return { ...server, close: stop };
}

/** Sends bytes as they are and gives what comes back until the server hangs up or has said enough. */
const raw = (port: number, text: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const socket = connect(port, "127.0.0.1", () => socket.end(text));
    let got = "";
    socket.on("data", (part) => {
      got += part;
    });
    socket.on("error", reject);
    socket.on("close", () => resolve(got));
  });

describe("a started server", () => {
  it("answers on the loopback address alone, and hands out the page", async () => {
    const folder = scratchFolder();
    const server = await running({ folder, port: 0, app: scratchPage(folder) });
    expect(server.address).toBe(`http://127.0.0.1:${server.port}/`);
    const page = await fetch(server.address);
    expect([page.status, page.headers.get("content-type")]).toEqual([200, "text/html; charset=utf-8"]);
    expect(readFileSync(join(folder, "address.txt"), "utf8").trim()).toBe(server.address);
  });

  it("has the same port after a restart, since a browser keeps unsent edits by the page's address", async () => {
    const folder = scratchFolder();
    const first = await running({ folder, app: folder });
    await first.close();
    const second = await running({ folder, app: folder });
    expect(second.port).toBe(first.port);
    expect(browsersRefuse(first.port)).toBe(false);
    await second.close();
    // and another where that one is taken
    const other = await running({ folder: scratchFolder(), port: first.port });
    const third = await running({ folder, app: folder });
    expect(third.port).not.toBe(other.port);
  });

  it("tells a second start where it answers, and is gone when it is closed, listeners and all", async () => {
    const folder = scratchFolder();
    const server = await running({ folder, port: 0, app: folder });
    const listening = await fetch(`${server.address.slice(0, -1)}${routes.events}`);
    expect(await tryServer({ folder, port: 0 })).toMatchObject({ ok: false, address: server.address });
    await server.close();
    const heard = await listening.text();
    expect(heard).toContain("retry: 1000");
    await expect(fetch(server.address)).rejects.toThrow();
    const again = await running({ folder, port: 0, app: folder });
    expect((await fetch(`${again.address}api/bench`)).status).toBe(200);
  });

  it("says in words that a port is taken, and gives the folder back", async () => {
    const one = await running({ folder: scratchFolder(), port: 0 });
    const folder = scratchFolder();
    expect(await tryServer({ folder, port: one.port })).toMatchObject({
      ok: false,
      message: expect.stringContaining(`Port ${one.port} is not free`),
    });
    await running({ folder, port: 0 });
  });

  it("refuses requests that are no requests, two hosts, a foreign host, and a body that goes on and on", async () => {
    const faults: unknown[] = [];
    const folder = scratchFolder();
    const { port } = await running({ folder, port: 0, app: folder, fault: (error) => faults.push(error) });
    const host = `Host: 127.0.0.1:${port}\r\nConnection: close\r\n`;
    const status = async (text: string) => (await raw(port, text)).split(" ")[1];
    expect(await status(`GET /api/bench HTTP/1.1\r\n${host}\r\n`)).toBe("200");
    expect(await status(`GET /api/bench HTTP/1.1\r\n${host}Host: evil.example\r\n\r\n`)).toBe("400");
    expect(await status("GET /api/bench HTTP/1.1\r\nConnection: close\r\n\r\n")).toBe("400");
    expect(await status("GET /api/bench HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n")).toBe(
      "421",
    );
    expect(await status(`GET http://evil.example/api/bench HTTP/1.1\r\n${host}\r\n`)).toBe("421");
    expect(await status(`GET /api/../../secret.txt HTTP/1.1\r\n${host}\r\n`)).toBe("404");
    expect(await status(`GET /..\\..\\secret.txt HTTP/1.1\r\n${host}\r\n`)).toBe("400");
    expect(await status("nonsense\r\n\r\n")).toBe("400");
    expect(await status(`GET /${"x".repeat(70_000)} HTTP/1.1\r\n${host}\r\n`)).toBe("431");
    // declared too large: the answer comes before the body
    const put = `PUT /api/preferences HTTP/1.1\r\n${host}Fairbout-Page: p\r\nContent-Type: application/json\r\n`;
    expect(await status(`${put}Content-Length: 99999999\r\n\r\n{`)).toBe("413");
    // not declared: it is cut off as it passes the limit
    const endless = await new Promise<number | string>((resolve) => {
      const call = request(
        {
          port,
          host: "127.0.0.1",
          method: "PUT",
          path: "/api/preferences",
          headers: { "fairbout-page": "p", "content-type": "application/json" },
        },
        (response) => {
          response.resume();
          resolve(response.statusCode ?? 0);
        },
      );
      call.on("error", (error) => resolve((error as { code?: string }).code ?? "error"));
      const more = () => {
        if (!call.destroyed && !call.writableEnded) call.write("x".repeat(16_000), () => setImmediate(more));
      };
      more();
      setTimeout(() => call.destroy(), 20_000).unref();
    });
    expect(endless).toBe(413);
    expect((await fetch(`http://127.0.0.1:${port}/api/bench`)).status).toBe(200);
    expect(faults).toEqual([]);
  });
});

describe("where things lie", () => {
  it("follows each system's custom, and what the environment says", () => {
    expect(storeFolder("linux", "/home/ana", {})).toBe("/home/ana/.local/share/fairbout");
    expect(storeFolder("linux", "/home/ana", { XDG_DATA_HOME: "/data" })).toBe("/data/fairbout");
    expect(storeFolder("linux", "/home/ana", { XDG_DATA_HOME: "data" })).toBe(
      "/home/ana/.local/share/fairbout",
    );
    expect(storeFolder("darwin", "/Users/ana", {})).toBe("/Users/ana/Library/Application Support/Fairbout");
    expect(storeFolder("win32", "C:", { APPDATA: "C:/Roaming" })).toContain("Roaming");
    expect(storeFolder("linux", "/home/ana", { FAIRBOUT_FOLDER: "/mnt/bench" })).toBe("/mnt/bench");
  });

  it("tries ports of the folder's own that browsers open, and any at last", () => {
    for (const folder of ["/a", "/b", "/c"]) {
      const ports = portsToTry(folder);
      expect(ports.at(-1)).toBe(0);
      for (const port of ports.slice(0, -1)) {
        expect(browsersRefuse(port)).toBe(false);
        expect(port).toBeLessThan(32_768);
      }
    }
    expect(browsersRefuse(6000)).toBe(true);
  });
});
