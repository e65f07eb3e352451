/**
 * What a hand meets that drags in the real page, on example A: how long a move takes until the note board beside it is drawn anew, and
 * how long the main thread is held up meanwhile. A brace's height in the strip, then its end in the plan. node tools/run.mjs timings/drag.ts
 */
import type { Page } from "playwright-core";
import { beginFromExample, middleOf, patience, toStage, voiceIsReady } from "../proofs/app/deeds.fixture.ts";
import { browserIsThere, openBench } from "../proofs/app/openBench.fixture.ts";

const brace = "ray 3, bass waist";
/** Moves that are waited for one by one, then moves at the speed of a hand. */
const waited = 40;
const handSpeed = { moves: 300, every: 16 } as const;

interface Watch {
  /** ms from each move to the frame in which the board had changed. */
  readonly late: readonly number[];
  /** ms by the clock: tasks of the main thread that the browser calls long, and the longest wait of a timer that was due. */
  readonly longTasks: readonly number[];
  readonly heldUp: number;
}

/** In the page: notes when it is moved, when the board changes after that, and what holds the main thread up. */
const watch = `(() => {
  const seen = { late: [], longTasks: [], heldUp: 0 };
  let moved = null;
  addEventListener("pointermove", () => { moved ??= performance.now(); }, { capture: true, passive: true });
  new MutationObserver(() => {
    if (moved === null) return;
    const from = moved;
    moved = null;
    requestAnimationFrame(() => seen.late.push(performance.now() - from));
  }).observe(document.querySelector(".live-voice"), { subtree: true, childList: true, characterData: true, attributes: true });
  new PerformanceObserver((list) => { for (const { duration } of list.getEntries()) seen.longTasks.push(duration); }).observe({ type: "longtask" });
  let due = performance.now();
  const turn = () => {
    const now = performance.now();
    seen.heldUp = Math.max(seen.heldUp, now - due);
    due = now + 4;
    setTimeout(turn, 4);
  };
  turn();
  globalThis.dragWatch = seen;
})()`;

async function found(page: Page): Promise<Watch> {
  const seen = (await page.evaluate("globalThis.dragWatch")) as Watch;
  await page.evaluate("Object.assign(globalThis.dragWatch, { late: [], longTasks: [], heldUp: 0 })");
  return seen;
}

const quantile = (values: readonly number[], share: number): string => {
  const sorted = values.toSorted((a, b) => a - b);
  return (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN).toFixed(0);
};
const say = (line: string): void => void process.stdout.write(`${line}\n`);

if (!browserIsThere) throw new Error("no browser: install chromium, or name it in CHROMIUM");
const bench = await openBench();
const { page } = await bench.page({ viewport: { width: 1440, height: 1000 } });
await beginFromExample(page, "Low radial");
await voiceIsReady(page);
await toStage(page, "Bracing");
await page
  .getByRole("button", { name: new RegExp(`^${brace}`) })
  .first()
  .press("Enter", patience);
await page.getByRole("tab", { name: "Voice" }).click(patience);
const drags = [
  { what: "the height of the brace", handle: '[data-handle="top.braces[2].height"]', way: [0, 1] },
  { what: "the end of the brace", handle: '[data-handle="top.braces[2].to"]', way: [1, 0] },
] as const;
for (const [n, { what, handle, way }] of drags.entries()) {
  const { x, y } = await middleOf(page.locator(handle));
  const to = (d: number) => page.mouse.move(x + way[0] * d, y + way[1] * d);
  const began = performance.now();
  await to(0);
  await page.mouse.down();
  for (let step = 0; !(await page.getByText("Under your hand: reduced").isVisible()); step++) {
    if (performance.now() - began > 600_000) throw new Error("the hand's model was never ready");
    await to(3 + (step % 2));
    await page.waitForTimeout(500);
  }
  say(`${what}: followed ${((performance.now() - began) / 1e3).toFixed(1)} s after it was taken hold of`);
  if (n === 0) await page.evaluate(watch);
  // meanwhile the model of everything is made beside the small one: on two cores it is in the way of every answer
  await page.waitForTimeout(n === 0 ? 60_000 : 2000);
  await found(page);
  for (let i = 0; i < waited; i++) {
    // far enough to be another figure, whatever is snapped to
    await to(4 + 12 * (i % 2) + (i % 5));
    await page.waitForTimeout(400);
  }
  const one = await found(page);
  say(
    `  a move to its board on the screen p50 ${quantile(one.late, 0.5)} ms, p95 ${quantile(one.late, 0.95)} ms (${one.late.length} moves)`,
  );
  for (let i = 0; i < handSpeed.moves; i++) {
    await to(3 + 8 * Math.abs(Math.sin(i / 20)));
    await page.waitForTimeout(handSpeed.every);
  }
  const many = await found(page);
  say(
    `  at the speed of a hand: ${many.late.length} boards; the main thread held up for at most ${many.heldUp.toFixed(0)} ms; ` +
      `${many.longTasks.length} tasks over 50 ms${many.longTasks.length > 0 ? `, the longest ${Math.max(...many.longTasks).toFixed(0)} ms` : ""}`,
  );
  await page.keyboard.press("Escape");
  await page.mouse.up();
  await page.waitForTimeout(1000);
}
await bench.close();
