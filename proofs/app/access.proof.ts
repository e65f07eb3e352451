/**
 * Every stage and every view of the bench under an accessibility checker (axe-core, rules of WCAG 2.1 A and AA and its best
 * practices), by day and by night: no fault that the checker calls serious or critical.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { beginFromExample, patience, stageNames, toStage, voiceIsReady } from "./deeds.fixture.ts";
import { browserIsThere, type OpenBench, openBench } from "./openBench.fixture.ts";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

interface Fault {
  readonly id: string;
  readonly impact: string | null;
  readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
}

/** Serious and critical faults on what the page shows now, in words with the place. */
async function faults(page: Page, place: string): Promise<readonly string[]> {
  await page.waitForTimeout(300);
  // by the debugger's own world: the page's policy forbids scripts from elsewhere
  const found = (await page.evaluate(
    `(async () => { ${axe}; return (await axe.run(document, { resultTypes: ["violations"] })).violations; })()`,
  )) as readonly Fault[];
  return found
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(
      ({ id, nodes }) =>
        `${place}: ${id} at ${nodes[0]?.html.slice(0, 200)} ${nodes[0]?.failureSummary ?? ""}`,
    );
}

describe.runIf(browserIsThere)("the bench under an accessibility checker", () => {
  let bench: OpenBench;
  let address: string;

  beforeAll(async () => {
    bench = await openBench({ inSpace: true });
    const { page } = await bench.page();
    await beginFromExample(page, "Low radial");
    await voiceIsReady(page);
    address = page.url();
    await page.context().close();
  }, 300_000);
  afterAll(() => bench?.close());

  it("finds nothing serious on any stage, by day or by night", async () => {
    const { page } = await bench.page({ reducedMotion: "reduce" });
    const found: string[] = [];
    const look = async (place: string): Promise<void> => {
      for (const light of ["light", "dark"] as const) {
        await page.emulateMedia({ colorScheme: light });
        found.push(...(await faults(page, `${place}, ${light}`)));
      }
    };
    await look("the start");
    await page.goto(address);
    await voiceIsReady(page);
    for (const stage of stageNames) {
      await toStage(page, stage);
      const views = page.getByRole("radiogroup", { name: "What is shown" }).getByRole("radio");
      const count = Math.max(1, await views.count());
      for (let i = 0; i < count; i++) {
        if ((await views.count()) > i) await views.nth(i).click({ ...patience, force: true });
        await look(`${stage}, view ${i + 1}`);
      }
    }
    await page.getByRole("tab", { name: "Values" }).click(patience);
    await look("the values");
    await page.getByRole("button", { name: "Hands full" }).click(patience);
    await look("hands full");
    expect(found).toEqual([]);
  });

  it("is shown to find faults: a control without a name is told of, and so is ink too pale at night", async () => {
    const { page } = await bench.page({ colorScheme: "dark" });
    await page.getByRole("button", { name: "Answer the questions" }).waitFor(patience);
    await page.evaluate(`document.querySelector("main").append(document.createElement("button"))`);
    await page.evaluate(`document.querySelector("h1, h2").style.color = "#333"`);
    const told = (await faults(page, "spoiled")).join();
    expect(told).toContain("button-name");
    expect(told).toContain("color-contrast");
  });
});
