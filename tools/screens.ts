/**
 * Pictures of every stage of the bench on example A, by day and by night, on a laptop and on a tablet, into docs/pictures/bench:
 * node tools/run.mjs tools/screens.ts. Needs a chromium, as the tests of the page do; where ImageMagick is installed, a
 * palette makes the files a third as large.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import {
  beginFromExample,
  loadIsReady,
  stageNames,
  toStage,
  voiceIsReady,
} from "../proofs/app/deeds.fixture.ts";
import { openBench } from "../proofs/app/openBench.fixture.ts";

const folder = join(import.meta.dirname, "..", "docs", "pictures", "bench");
mkdirSync(folder, { recursive: true });
const sizes = { laptop: { width: 1280, height: 800 }, tablet: { width: 820, height: 1180 } } as const;

const bench = await openBench({ inSpace: true });
try {
  // the first page computes the voice, the others find it kept
  const { page: first } = await bench.page();
  await beginFromExample(first, "Low radial");
  await voiceIsReady(first);
  await loadIsReady(first);
  const address = first.url();
  for (const [size, viewport] of Object.entries(sizes)) {
    for (const light of ["light", "dark"] as const) {
      const { page } = await bench.page({
        viewport,
        colorScheme: light,
        reducedMotion: "reduce",
        hasTouch: size === "tablet",
      });
      await page.goto(address);
      await voiceIsReady(page);
      for (const stage of stageNames) {
        await toStage(page, stage);
        if (stage === "Load") await loadIsReady(page);
        await page.waitForTimeout(600);
        const file = join(folder, `${stage.toLowerCase()}-${size}-${light}.png`);
        await page.screenshot({ path: file });
        spawnSync("convert", [file, "+dither", "-colors", "96", `PNG8:${file}`], { stdio: "ignore" });
        process.stdout.write(`${file}\n`);
      }
      await page.context().close();
    }
  }
} finally {
  await bench.close();
}
