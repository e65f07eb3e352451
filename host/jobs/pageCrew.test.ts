import { existsSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { chromium } from "playwright-core";
import { describe, expect, it } from "vitest";

const browserPath = process.env["CHROMIUM"] ?? "/usr/bin/chromium";

/** One file of the page with all that it imports. */
async function bundled(entry: URL): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [fileURLToPath(entry)],
    bundle: true,
    write: false,
    format: "esm",
    target: "es2022",
    logLevel: "error",
  });
  return outputFiles[0]!.text;
}

type Found = readonly { readonly title: string; readonly fault: string | null }[];

/** Opens the page in a browser and waits for what it sends home. `isolated`: with the headers that allow shared memory. */
async function openPage(isolated: boolean): Promise<Found> {
  const files: Readonly<Record<string, readonly [type: string, text: string]>> = {
    "/": ["text/html", '<script type="module" src="page.js"></script>'],
    "/page.js": ["text/javascript", await bundled(new URL("./contractPage.fixture.ts", import.meta.url))],
    "/worker.js": [
      "text/javascript",
      await bundled(new URL("./contractPageWorker.fixture.ts", import.meta.url)),
    ],
  };
  let tell: (found: Found) => void = () => {};
  const told = new Promise<Found>((settle) => {
    tell = settle;
  });
  const server = createServer((request, response) => {
    if (request.method === "POST") {
      let text = "";
      request.on("data", (part) => {
        text += part;
      });
      request.on("end", () => {
        response.end();
        tell(JSON.parse(text));
      });
      return;
    }
    const [type, text] = files[request.url ?? ""] ?? ["text/plain", ""];
    response.writeHead(text === "" ? 404 : 200, {
      "content-type": type,
      ...(isolated
        ? { "cross-origin-opener-policy": "same-origin", "cross-origin-embedder-policy": "require-corp" }
        : {}),
    });
    response.end(text);
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address() as AddressInfo;
  const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
  const ended = new Promise<never>((_, fail) => {
    browser.on("disconnected", () => fail(new Error("the browser ended before the page was through")));
  });
  try {
    const page = await browser.newPage();
    await page.goto(`http://127.0.0.1:${port}/`);
    return await Promise.race([told, ended]);
  } finally {
    ended.catch(() => {});
    await browser.close();
    server.close();
  }
}

describe.skipIf(!existsSync(browserPath))(`in a page (skipped where there is no ${browserPath})`, () => {
  for (const isolated of [true, false])
    it(`a crew of the page's workers keeps the contract, ${isolated ? "isolated" : "not isolated"}`, async () => {
      const found = await openPage(isolated);
      expect(found.filter((f) => f.fault !== null)).toEqual([]);
      expect(found.filter((f) => f.title.startsWith("shared flag"))).toHaveLength(isolated ? 12 : 0);
      expect(found.filter((f) => f.title.startsWith("worker ended"))).toHaveLength(12);
    });
});
