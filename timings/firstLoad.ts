/**
 * What a browser fetches before the plan of an instrument can be seen, and how long that takes: a fresh profile, the bench's own
 * server, everything as it comes over the wire. node tools/run.mjs timings/firstLoad.ts
 */
import { readFileSync } from "node:fs";
import { pageHeader, routes } from "#host/api";
import { browserIsThere, openBench } from "../proofs/app/openBench.fixture.ts";

if (!browserIsThere) throw new Error("no browser: install chromium, or name it in CHROMIUM");
const bench = await openBench();
const id = crypto.randomUUID();
const text = readFileSync(new URL("../examples/low-radial.fairbout.json", import.meta.url), "utf8");
await fetch(new URL(routes.instruments, bench.address()), {
  method: "POST",
  headers: { "content-type": "application/json", [pageHeader]: id },
  body: JSON.stringify({ id, text, cause: "begun" }),
});
for (let run = 1; run <= 3; run++) {
  const context = await bench.browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  const network = await context.newCDPSession(page);
  await network.send("Network.enable");
  const asked = new Map<string, string>();
  const wire = new Map<string, number>();
  network.on("Network.requestWillBeSent", ({ requestId, request }) => asked.set(requestId, request.url));
  network.on("Network.loadingFinished", ({ requestId, encodedDataLength }) =>
    wire.set(asked.get(requestId) ?? requestId, encodedDataLength),
  );
  // workers' own files are fetched by targets that the page's session does not see: the server's answers tell their size
  const from = performance.now();
  await page.goto(`${bench.address()}?instrument=${id}&stage=outline`);
  await page.locator(".plan-sheet .outline, .plan-sheet path").first().waitFor({ timeout: 60_000 });
  const seen = performance.now() - from;
  const workers = page.workers().map((worker) => worker.url());
  for (const url of workers) {
    const answer = await fetch(url, { headers: { "accept-encoding": "br" } });
    wire.set(url, Number(answer.headers.get("content-length")));
  }
  // the finite elements are sent for once the plan's geometry is there, while it is being drawn
  const notWaitedFor = (url: string): boolean => new URL(url).pathname.startsWith("/assets/worker-");
  const kB = (wanted: (url: string) => boolean): string =>
    ([...wire].reduce((sum, [url, bytes]) => sum + (wanted(url) ? bytes : 0), 0) / 1000).toFixed(0);
  process.stdout.write(
    `run ${run}: plan seen after ${(seen / 1000).toFixed(2)} s; ${kB((url) => !notWaitedFor(url))} kB over the wire, ` +
      `and ${kB(notWaitedFor)} kB that it does not wait for\n`,
  );
  if (run === 1)
    for (const [url, bytes] of [...wire].sort((a, b) => b[1] - a[1]))
      process.stdout.write(`  ${(bytes / 1000).toFixed(1).padStart(7)} kB  ${new URL(url).pathname}\n`);
  await context.close();
}
await bench.close();
