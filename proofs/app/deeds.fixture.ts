/** What a maker does on the bench, in the words that the page shows. */
import type { Locator, Page } from "playwright-core";

/** Where browser and engine share two cores with a test, the voice takes its time. */
export const patience = { timeout: 240_000 } as const;

export const stageNames = [
  "Brief",
  "Outline",
  "Strings",
  "Neck",
  "Bracing",
  "Load",
  "Voice",
  "Setup",
] as const;

/** From the list of instruments to one begun from the example of that name. */
export async function beginFromExample(page: Page, name: string): Promise<void> {
  await page.getByRole("button", { name: `Begin with ${name}`, exact: true }).click(patience);
  await page.waitForURL(/instrument=/, patience);
  await page.getByRole("navigation", { name: "Stages of the job" }).waitFor(patience);
}

export async function toStage(page: Page, stage: (typeof stageNames)[number]): Promise<void> {
  const link = page.getByRole("navigation", { name: "Stages of the job" }).getByRole("link", { name: stage });
  await link.click(patience);
  await page
    .getByRole("heading", { level: 2, name: stage })
    .or(page.getByRole("heading", { name: stage }))
    .first()
    .waitFor(patience);
}

/** Waits on the voice's stage until every note has its figures. */
export async function voiceIsReady(page: Page): Promise<void> {
  await toStage(page, "Voice");
  await page.getByRole("grid", { name: /Note board/ }).waitFor(patience);
}

/** Waits on the load's stage until its figures are there. */
export async function loadIsReady(page: Page): Promise<void> {
  await toStage(page, "Load");
  await page.getByRole("table").first().waitFor(patience);
}

/** Middle of an element in the window, px. */
export async function middleOf(element: Locator): Promise<{ readonly x: number; readonly y: number }> {
  const box = await element.boundingBox(patience);
  if (box === null) throw new Error("what is to be taken hold of is not on the screen");
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}
