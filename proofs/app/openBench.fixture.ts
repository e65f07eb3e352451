/** The bench as a user meets it: a page built from these sources, its server on a scratch folder, a real browser. */
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { startServer } from "#host/server";
import { buildPage } from "../../tools/page.mjs";

/** Where a browser is looked for: named by the environment, else where Debian puts it. */
export const browserPath = process.env["CHROMIUM"] ?? "/usr/bin/chromium";
export const browserIsThere = existsSync(browserPath);

const root = join(import.meta.dirname, "..", "..");

export interface OpenBench {
  /** Changes when the server is started anew on another port; pages are opened at it. */
  readonly address: () => string;
  readonly folder: string;
  readonly browser: Browser;
  /** A page of its own browser profile, at the bench's address; what it says on its console as an error is collected. */
  page(options?: BrowserContextOptions): Promise<WatchedPage>;
  /** Ends the server as a closed laptop would, and starts it again on the same folder and port. */
  stopServer(): Promise<void>;
  startServer(): Promise<void>;
  close(): Promise<void>;
}

export interface WatchedPage {
  readonly page: Page;
  /** Errors on the console and requests to anywhere but the bench. */
  readonly complaints: readonly string[];
}

/** Lets a browser without a graphics processor draw in space; it then computes every frame of the page by that way, which is slow. */
const drawingInSpace = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"];

/** Opens it; `close` leaves nothing behind. `inSpace`: with the 3-D view, which is else shown flat. */
export async function openBench({ inSpace = false } = {}): Promise<OpenBench> {
  await buildPage();
  const folder = mkdtempSync(join(tmpdir(), "fairbout-bench-"));
  const app = join(root, ".out", "app");
  let server = await startServer({ folder, app });
  const { port } = server;
  let address = server.address;
  const browser = await chromium.launch({
    executablePath: browserPath,
    args: [
      "--no-sandbox",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--autoplay-policy=no-user-gesture-required",
      ...(inSpace ? drawingInSpace : []),
    ],
  });
  return {
    address: () => address,
    folder,
    browser,
    async page(options = {}) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
      const page = await context.newPage();
      const complaints: string[] = [];
      page.on("console", (message) => {
        if (message.type() === "error") complaints.push(message.text());
      });
      page.on("pageerror", (error) => complaints.push(`threw ${error.message}`));
      page.on("request", (request) => {
        const url = new URL(request.url());
        if (!["blob:", "data:"].includes(url.protocol) && url.origin !== new URL(address).origin)
          complaints.push(`asked for ${request.url()}`);
      });
      await page.goto(address);
      return { page, complaints };
    },
    async stopServer() {
      await server.close();
    },
    async startServer() {
      server = await startServer({ folder, app, port });
      address = server.address;
    },
    async close() {
      await browser.close();
      await server.close();
      rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
    },
  };
}
