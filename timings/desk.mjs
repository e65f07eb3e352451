/**
 * The engine in a page's workers: how long a voice takes there, computed and kept; how long the hand's model; what a drag
 * costs; how much memory is held. Builds the desk alone, serves it with the headers of the bench's server, drives it in the
 * machine's browser. Tasks are told by the clock and by processor time, as the machine may be busy.
 * Usage: node timings/desk.mjs [plain] (plain: without shared memory)
 */
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { chromium } from "playwright-core";
import { build } from "vite";

const root = join(import.meta.dirname, "..");
const out = join(root, ".out", "desk-timing");
const isolated = !process.argv.includes("plain");
const moved = "top.braces[2].height";
const dragTime = 5000;

await build({
  root,
  configFile: false,
  logLevel: "error",
  publicDir: false,
  build: {
    outDir: out,
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0,
    rollupOptions: {
      input: join(root, "timings", "deskPage.mjs"),
      output: { entryFileNames: "page.js", chunkFileNames: "[name]-[hash].js" },
      preserveEntrySignatures: false,
    },
  },
  worker: { format: "es" },
});
mkdirSync(out, { recursive: true });
const say = (line) => process.stdout.write(`${line}\n`);
say(
  `page's own part ${(gzipSync(readFileSync(join(out, "page.js"))).length / 1e3).toFixed(1)} kB compressed`,
);

const kept = new Map();
const headers = isolated
  ? { "cross-origin-opener-policy": "same-origin", "cross-origin-embedder-policy": "require-corp" }
  : {};
const server = createServer((request, response) => {
  const { pathname } = new URL(request.url, "http://localhost");
  const answer = (status, body, type = "text/javascript") => {
    response.writeHead(status, { ...headers, "content-type": type });
    response.end(body);
  };
  if (pathname === "/")
    return answer(200, '<!doctype html><script type="module" src="/page.js"></script>', "text/html");
  if (!pathname.startsWith("/api/results/")) {
    try {
      return answer(200, readFileSync(join(out, pathname)));
    } catch {
      return answer(404, "");
    }
  }
  if (request.method !== "PUT")
    return kept.has(pathname) ? answer(200, kept.get(pathname), "application/octet-stream") : answer(404, "");
  const parts = [];
  request.on("data", (part) => parts.push(part));
  request.on("end", () => {
    kept.set(pathname, Buffer.concat(parts));
    answer(204, "");
  });
});
await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
const address = `http://127.0.0.1:${server.address().port}/`;
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"],
});
const text = readFileSync(join(root, "examples", "low-radial.fairbout.json"), "utf8");

async function opened() {
  const page = await (await browser.newContext()).newPage();
  await page.goto(address);
  await page.waitForFunction(() => globalThis.desk !== undefined);
  await page.evaluate(() => {
    globalThis.until = (holds) =>
      new Promise((settle) => {
        if (holds(desk.state())) return settle();
        const stop = desk.subscribe((state) => {
          if (!holds(state)) return;
          stop();
          settle();
        });
      });
  });
  return page;
}

/** The page's tasks and its workers' while `work` runs, ms. */
async function watched(page, work) {
  const cdp = await page.context().newCDPSession(page);
  const events = [];
  cdp.on("Tracing.dataCollected", ({ value }) => events.push(...value));
  const traceConfig = { includedCategories: ["toplevel", "__metadata"] };
  await cdp.send("Tracing.start", { transferMode: "ReportEvents", traceConfig });
  const found = await work();
  const complete = new Promise((settle) => cdp.once("Tracing.tracingComplete", settle));
  await cdp.send("Tracing.end");
  await complete;
  const threads = new Map();
  for (const { name, pid, tid, args } of events)
    if (name === "thread_name") threads.set(`${pid} ${tid}`, args.name);
  const tasks = (thread) =>
    events.filter(
      (e) => e.ph === "X" && /RunTask/.test(e.name) && thread.test(threads.get(`${e.pid} ${e.tid}`)),
    );
  const most = (list, key) => Math.max(0, ...list.map((e) => (e[key] ?? 0) / 1e3));
  const main = tasks(/^CrRendererMain$/);
  say(
    `  longest task of the main thread ${most(main, "dur").toFixed(0)} ms by the clock, ${most(main, "tdur").toFixed(0)} ms of processor time`,
  );
  const workers = tasks(/^DedicatedWorker/).flatMap((e) => ((e.tdur ?? 0) > 15e3 ? [e.tdur / 1e3] : []));
  return { found, workers: workers.sort((a, b) => a - b) };
}

const seconds = (from) => `${((performance.now() - from) / 1e3).toFixed(1)} s`;
const voiced = async (page, words) => {
  const begun = performance.now();
  await watched(page, () =>
    page.evaluate(async (text) => {
      desk.deeds.want("voice");
      desk.deeds.follow(text);
      await until(({ voice }) => voice.fresh || voice.fault !== null);
      if (desk.state().voice.fault !== null) throw new Error(desk.state().voice.fault);
    }, text),
  );
  say(`${words} ${seconds(begun)} after the document`);
};

/** Page and workers together, as the browser tells it where memory may be shared. */
const memory = async (page, words) => {
  if (!isolated) return;
  const { bytes } = await page.evaluate(() => performance.measureUserAgentSpecificMemory());
  say(`  memory ${(bytes / 1e6).toFixed(0)} MB ${words}`);
};

const page = await opened();
await voiced(page, "voice, computed, cold:");
await memory(page, "after it");
const begun = performance.now();
await page.evaluate((moved) => {
  desk.deeds.hold(moved);
  return until(({ hand }) => hand.status === "ready" || hand.fault !== null);
}, moved);
say(
  `hand's model of one brace: ${seconds(begun)} after it was taken hold of, that of everything made beside it`,
);
await page.evaluate(() => until(({ hand, movable }) => movable.length > 20 || hand.fault !== null));
say(`hand's model of everything: ${seconds(begun)}`);
await memory(page, "with it");

const { found, workers } = await watched(page, () =>
  page.evaluate(
    async ({ moved, dragTime }) => {
      const sent = new Map();
      const late = [];
      const stop = desk.subscribe(({ live }, before) => {
        if (live === null || live === before.live || live.board === before.live?.board) return;
        const [{ factor }] = live.change;
        if (live.exactness === "live" && sent.has(factor)) late.push(performance.now() - sent.get(factor));
      });
      const end = performance.now() + dragTime;
      for (let i = 1; performance.now() < end; i++) {
        const factor = 1 - 0.3 * Math.abs(Math.sin(i / 60)) - 1e-6 * i;
        sent.set(factor, performance.now());
        desk.deeds.drag([{ parameter: moved, factor }]);
        await new Promise((settle) => setTimeout(settle, 16));
      }
      stop();
      return { moves: sent.size, late: late.sort((a, b) => a - b) };
    },
    { moved, dragTime },
  ),
);
const settled = await page.evaluate(async () => {
  const released = performance.now();
  desk.deeds.release();
  await until(({ live }) => live?.exactness === "settled");
  return performance.now() - released;
});
const share = (list, part) => list[Math.min(list.length - 1, Math.floor(part * list.length))] ?? Number.NaN;
say(
  `drag for ${dragTime / 1e3} s: ${found.moves} moves, ${found.late.length} answered; a move to its board p50 ${share(found.late, 0.5).toFixed(0)} ms, ` +
    `p95 ${share(found.late, 0.95).toFixed(0)} ms by the clock; settled ${settled.toFixed(0)} ms after it let go`,
);
say(
  `  an answer takes p50 ${share(workers, 0.5).toFixed(0)} ms, p95 ${share(workers, 0.95).toFixed(0)} ms of processor time`,
);
await page.close();
await voiced(await opened(), "voice, kept by the server:");

await browser.close();
server.close();
rmSync(out, { recursive: true, force: true });
