/** What a maker does first and most, on the real page: begin, drag a brace and watch the voice, undo after a restart, by touch, by keys alone. */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { beginFromExample, middleOf, patience, toStage, voiceIsReady } from "./deeds.fixture.ts";
import { browserIsThere, type OpenBench, openBench, type WatchedPage } from "./openBench.fixture.ts";

const brace = "ray 3, bass waist";
const farEnd = '[data-handle="top.braces[2].to"]';

interface Served {
  readonly revision: number;
  readonly text: string;
  readonly undo: string | null;
}

/** The instrument as the server has it. */
async function served(page: Page): Promise<Served> {
  const id = new URL(page.url()).searchParams.get("instrument");
  const url = `${new URL(page.url()).origin}/api/instruments/${id}`;
  return (await (await fetch(url)).json()) as Served;
}

function endOf({ text }: Served): readonly string[] {
  const { top } = JSON.parse(text) as { top: { braces: { name: string; to: readonly string[] }[] } };
  return top.braces.find(({ name }) => name === brace)!.to;
}

const mm = (typed: string | undefined): number => Number.parseFloat(typed ?? "");

async function chooseBrace(page: Page): Promise<void> {
  await page
    .getByRole("button", { name: new RegExp(`^${brace}`) })
    .first()
    .press("Enter", patience);
  await page.locator(farEnd).waitFor(patience);
}

/** Main modes as the table beside the drawing tells them: Hz by name. */
async function mainModes(page: Page): Promise<ReadonlyMap<string, number>> {
  const rows = page.getByRole("table", { name: "Main modes" }).getByRole("row");
  const texts = await rows.allInnerTexts();
  return new Map(
    texts.slice(1).map((row) => {
      const cells = row.split(/[\t\n]+/).map((cell) => cell.trim());
      return [cells[0] ?? "", Number(cells[1])];
    }),
  );
}

/** What the browser itself says of a server that is away, or that has no kept result yet, is no fault of the page. */
const ownFaults = (complaints: readonly string[]): readonly string[] =>
  complaints.filter((said) => !/Failed to load resource|ERR_CONNECTION/.test(said));

describe.runIf(browserIsThere)("a maker on the bench", () => {
  let bench: OpenBench;
  let watched: WatchedPage;
  let page: Page;

  beforeAll(async () => {
    bench = await openBench();
    watched = await bench.page();
    page = watched.page;
  }, 120_000);
  afterAll(() => bench?.close());

  it("starts from nothing, and has an instrument with a computed voice", async () => {
    await page.getByRole("heading", { name: "Begin from a brief" }).waitFor(patience);
    await beginFromExample(page, "Low radial");
    await page.locator(".plan-sheet").waitFor(patience);
    await voiceIsReady(page);
    const notes = await page.locator("[data-note]").count();
    expect(notes).toBe(6 * 23);
    const { revision } = await served(page);
    expect(revision).toBe(1);
  });

  it("drags a brace, sees the modes move under the hand, and has one revision that says what was done", async () => {
    await toStage(page, "Bracing");
    const before = await served(page);
    await chooseBrace(page);
    await page.getByRole("tab", { name: "Voice" }).click(patience);
    await page.getByRole("table", { name: "Main modes" }).waitFor({ timeout: 30_000 });
    const still = await mainModes(page);
    const from = await middleOf(page.locator(farEnd));
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    // the brace is held while its model is made; from then on the voice follows every move
    for (let step = 0; !(await page.getByText("Under your hand: reduced").isVisible()); step++) {
      if (step > 300) throw new Error("the hand's model was never ready");
      await page.mouse.move(from.x + 5 + (step % 2), from.y + 2);
      await page.waitForTimeout(1000);
    }
    // a few millimetres at the rim are nothing to a main mode: the hand goes on till one follows
    let reach = 5;
    await expect
      .poll(async () => {
        reach = Math.min(reach + 5, 60);
        await page.mouse.move(from.x + reach, from.y + 2);
        await page.waitForTimeout(500);
        const dragged = [...(await mainModes(page))];
        return dragged.filter(([name, hz]) => Math.abs(hz - (still.get(name) ?? hz)) >= 0.1).length;
      }, patience)
      .toBeGreaterThan(0);
    expect(await served(page)).toEqual(before);
    await page.mouse.up();
    await expect.poll(async () => (await served(page)).revision, patience).toBe(before.revision + 1);
    const after = await served(page);
    expect(after.undo).toContain(brace.split(",")[0]);
    const [a, b] = [endOf(before), endOf(after)];
    expect(Math.hypot(mm(a[0]) - mm(b[0]), mm(a[1]) - mm(b[1]))).toBeGreaterThan(2);
  }, 600_000);

  it("undoes it after the server was ended and started again", async () => {
    const changed = await served(page);
    await bench.stopServer();
    await bench.startServer();
    // on the brief's sheet nothing heavy is computed beside
    await page.goto(page.url().replace(/stage=\w+/, "stage=brief"));
    await page.getByRole("button", { name: /^Undo/ }).click(patience);
    await expect.poll(async () => (await served(page)).revision, patience).toBe(changed.revision + 1);
    const back = await served(page);
    expect(endOf(back)).not.toEqual(endOf(changed));
    await page.getByRole("button", { name: /^Redo/ }).click(patience);
    await expect.poll(async () => endOf(await served(page)), patience).toEqual(endOf(changed));
  });

  it("drags with a finger", async () => {
    const touched = await bench.page({ viewport: { width: 820, height: 1180 }, hasTouch: true });
    await touched.page.goto(page.url());
    await toStage(touched.page, "Bracing");
    await touched.page
      .getByRole("button", { name: new RegExp(`^${brace}`) })
      .first()
      .press("Enter");
    const from = await middleOf(touched.page.locator(farEnd));
    const before = await served(touched.page);
    const finger = await touched.page.context().newCDPSession(touched.page);
    const touch = (type: "touchStart" | "touchMove" | "touchEnd", x: number, y: number) =>
      finger.send("Input.dispatchTouchEvent", {
        type,
        touchPoints: type === "touchEnd" ? [] : [{ x, y, radiusX: 8, radiusY: 8 }],
      });
    await touch("touchStart", from.x, from.y);
    for (let step = 1; step <= 8; step++) await touch("touchMove", from.x - step, from.y);
    await touch("touchEnd", 0, 0);
    await expect.poll(async () => (await served(touched.page)).revision, patience).toBe(before.revision + 1);
    expect(endOf(await served(touched.page))).not.toEqual(endOf(before));
    await touched.page.context().close();
  });

  it("works by keys alone: begins, walks the rail, moves a brace's end, and takes it back", async () => {
    const { page: keyed, complaints } = await bench.page();
    const press = (key: string) => keyed.keyboard.press(key);
    /** Walks with Tab until the thing in focus bears that name. */
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let i = 0; i < 200; i++) {
        await press("Tab");
        const focused = (await keyed.evaluate(
          `(() => { const e = document.activeElement; return (e?.getAttribute("aria-label") ?? e?.textContent ?? "").trim(); })()`,
        )) as string;
        if (name.test(focused)) return;
      }
      throw new Error(`no key leads to ${name}`);
    };
    await keyed.getByRole("heading", { name: "Begin from a brief" }).waitFor(patience);
    await tabTo(/^Begin with Low radial$/);
    await press("Enter");
    await keyed.waitForURL(/instrument=/, patience);
    await keyed.getByRole("navigation", { name: "Stages of the job" }).waitFor(patience);
    await tabTo(/Outline/);
    for (let i = 0; i < 3; i++) await press("ArrowDown");
    await press("Enter");
    await keyed.getByRole("heading", { name: "Bracing" }).first().waitFor(patience);
    await keyed.locator(".brace-target").first().waitFor(patience);
    await tabTo(new RegExp(`^${brace}`));
    await press("Enter");
    await tabTo(new RegExp(`^${brace}, bass end`));
    const first = await served(keyed);
    await press("ArrowRight");
    await expect.poll(async () => (await served(keyed)).revision, patience).toBe(2);
    const after = await served(keyed);
    expect(endOf(after)).not.toEqual(endOf(first));
    await press("Control+z");
    await expect.poll(async () => (await served(keyed)).revision, patience).toBe(3);
    expect(endOf(await served(keyed))).toEqual(endOf(first));
    expect(ownFaults(complaints)).toEqual([]);
    await keyed.context().close();
  });

  it("has heard no complaint from the page, and no request went anywhere else", () => {
    expect(ownFaults(watched.complaints)).toEqual([]);
  });
});
