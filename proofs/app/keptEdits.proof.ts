/** Nothing a maker did is lost: a server that goes away, a page that is reloaded or closed meanwhile, two pages at once. */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { browserIsThere, type OpenBench, openBench } from "./openBench.fixture.ts";

let bench: OpenBench;
const patient = { timeout: 60_000 };

describe.runIf(browserIsThere)("edits on the bench", () => {
  beforeAll(async () => {
    bench = await openBench();
  });
  afterAll(() => bench.close());

  it("outlive a server that is away, a reload and a closed page, and reach the server in order", async () => {
    const { page } = await bench.page();
    const id = await begin(page);
    await wish(page, "said while all is well");
    await saved(id, "said while all is well");
    // the browser has the page itself too
    const kept = () => page.evaluate("navigator.serviceWorker.controller !== null");
    await expect.poll(kept, patient).toBe(true);

    await bench.stopServer();
    await page
      .getByRole("status")
      .filter({ hasText: /server|kept/i })
      .first()
      .waitFor(patient);
    await wish(page, "first without a server");
    await wish(page, "second without a server");
    await page.reload();
    await expectWish(page, "second without a server");

    // a second tab of the same browser takes up what a closed one left
    const tab = await page.context().newPage();
    await tab.goto(page.url());
    await page.close();
    await bench.startServer();
    await saved(id, "second without a server");
    const causes = await history(id);
    expect(causes.slice(0, 3).map((cause) => / to (.*)$/.exec(cause)?.[1])).toEqual([
      "second without a server",
      "first without a server",
      "said while all is well",
    ]);
  });

  it("of two pages are both kept, and the maker says which goes on", async () => {
    const { page: one } = await bench.page();
    const id = await begin(one);
    const { page: two } = await bench.page();
    await two.goto(one.url());
    await expectWish(two, await wished(one));

    await wish(two, "of the other page");
    await saved(id, "of the other page");
    await expectWish(one, "of the other page");

    // both at once: the first page cannot hear of the other's change
    await one.context().setOffline(true);
    await wish(one, "mine");
    await wish(two, "theirs");
    await saved(id, "theirs");
    await one.context().setOffline(false);
    const dialog = one.getByRole("alertdialog");
    await dialog.waitFor(patient);
    await dialog.getByRole("button", { name: "Make mine current" }).click();
    await saved(id, "mine");
    await expectWish(two, "mine");
  });

  it("that are refused stay in their field over a reload, with what is allowed, until Escape", async () => {
    const { page } = await bench.page();
    await begin(page);
    await find(page, "bridge thickness at the saddle");
    const field = page.getByRole("textbox", { name: "Thickness", exact: true }).first();
    await field.fill("3 km");
    await field.press("Enter");
    await page.getByText(/unit "km" is not known/).waitFor(patient);
    await page.reload();
    await find(page, "bridge thickness at the saddle");
    expect(await field.inputValue()).toBe("3 km");
    await page.getByText(/unit "km" is not known/).waitFor(patient);
    await field.press("Escape");
    expect(await field.inputValue()).toMatch(/ mm$/);
  });
});

/** Begins an instrument from an example; the page shows its brief. */
async function begin(page: Page): Promise<string> {
  await page.getByRole("button", { name: "Begin" }).first().click(patient);
  await page.waitForURL(/instrument=/, patient);
  const id = new URL(page.url()).searchParams.get("instrument") ?? "";
  await page.goto(`${new URL(page.url()).origin}/?instrument=${id}&stage=brief`);
  return id;
}

async function find(page: Page, words: string): Promise<void> {
  const tab = page.getByRole("tab", { name: "Values" });
  await tab.waitFor(patient);
  await tab.click();
  await page.getByRole("searchbox", { name: "Find a field" }).fill(words, patient);
}

async function wishField(page: Page) {
  const field = page.getByRole("textbox", { name: "Wishes" });
  if (!(await field.isVisible())) await find(page, "brief.wishes");
  await field.waitFor(patient);
  return field;
}

async function wish(page: Page, words: string): Promise<void> {
  const field = await wishField(page);
  await field.fill(words);
  await field.press("Enter");
  // taken: nothing is left as a draft
  const drafts = () => page.evaluate(`sessionStorage.getItem("fairbout-drafts")`);
  await expect.poll(drafts, patient).toBe("{}");
}

async function wished(page: Page): Promise<string> {
  return (await wishField(page)).inputValue();
}

async function expectWish(page: Page, words: string): Promise<void> {
  const field = await wishField(page);
  await expect.poll(() => field.inputValue(), patient).toBe(words);
}

/** The server has it. */
async function saved(id: string, words: string): Promise<void> {
  const stored = async (): Promise<string> => {
    const answer = await fetch(new URL(`/api/instruments/${id}`, bench.address())).catch(() => null);
    if (answer === null) return "";
    const { text } = (await answer.json()) as { text: string };
    return (JSON.parse(text) as { brief: { wishes: string } }).brief.wishes;
  };
  await expect.poll(stored, patient).toBe(words);
}

async function history(id: string): Promise<string[]> {
  const answer = await fetch(new URL(`/api/instruments/${id}/history`, bench.address()));
  return ((await answer.json()) as { cause: string }[]).map(({ cause }) => cause);
}
