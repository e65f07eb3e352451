/** A tablet in the shop's network: it gets nothing until it is paired, then the whole bench on a secure page, and nothing again once parted with. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { describe, expect, it } from "vitest";
import { type LanDeed, type LanState, pageHeader, routes } from "#host/api";
import { startServer } from "#host/server";
import { patience } from "./deeds.fixture.ts";
import { browserIsThere, browserPath, openBench } from "./openBench.fixture.ts";

describe.runIf(browserIsThere)("a tablet at the workbench", () => {
  it("pairs by the code, works on a secure page, cannot open the door itself, and is parted with", async () => {
    // the page is built by whoever opens a bench
    await (await openBench()).close();
    const folder = mkdtempSync(join(tmpdir(), "fairbout-tablet-"));
    // a loopback address stands for the shop's: a test opens nothing to a real network
    const server = await startServer({ folder, addresses: () => ["127.0.0.1"] });
    const door = async (deed: LanDeed): Promise<LanState> => {
      const answer = await fetch(new URL(routes.lan, server.address), {
        method: "POST",
        headers: { "content-type": "application/json", [pageHeader]: "bench" },
        body: JSON.stringify(deed),
      });
      expect(answer.status).toBe(200);
      return (await answer.json()) as LanState;
    };
    const { open } = await door({ deed: "open", address: "127.0.0.1" });
    const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
    try {
      // the maker goes on past the warning, having compared the fingerprint
      const context = await browser.newContext({ ignoreHTTPSErrors: true, hasTouch: true });
      const page = await context.newPage();
      await page.goto(open!.address);
      await page.getByRole("heading", { name: "Pair this tablet with the bench" }).waitFor(patience);
      expect((await context.request.get(`${open!.address}api/bench`)).status()).toBe(401);
      await page.getByLabel("Code on the bench").fill("0000 0001");
      await page.getByRole("button", { name: "Pair" }).click();
      await page.getByRole("alert").waitFor(patience);
      await page.getByLabel("Code on the bench").fill(open!.code!.digits);
      await page.getByRole("button", { name: "Pair" }).click();
      await page.getByRole("heading", { name: "Begin from a brief" }).waitFor(patience);
      expect(await page.evaluate("isSecureContext && crossOriginIsolated")).toBe(true);
      expect(await page.evaluate("typeof navigator.mediaDevices.getUserMedia")).toBe("function");
      expect(await page.evaluate("fetch('/api/lan').then((r) => r.status)")).toBe(404);
      const [tablet] = (await door({ deed: "code" })).devices;
      await door({ deed: "part", device: tablet!.id });
      expect(await page.evaluate("fetch('/api/bench').then((r) => r.status)")).toBe(401);
    } finally {
      await browser.close();
      await server.close();
      rmSync(folder, { recursive: true, force: true });
    }
  }, 240_000);
});
