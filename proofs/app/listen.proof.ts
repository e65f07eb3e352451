/**
 * A note struck in the page: what the browser rendered and saved is analysed by a parametric fit that knows nothing of the model, and held against
 * the voice computed here from the same document.
 */
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { defaultRender } from "#engine/notes";
import { opened } from "#engine/numerics";
import {
  alone,
  computeVoice,
  defaultBodySettings,
  instrumentGeometry,
  noteTones,
  soundingBody,
  stageJobs,
  stringSet,
} from "#engine/pipeline";
import { fast } from "../pipeline/coarseBody.ts";
import { mainTones, toneGaps } from "../pipeline/toneGaps.ts";
import { browserIsThere, type OpenBench, openBench } from "./openBench.fixture.ts";

/** The voice takes long where browser and test share two cores. */
const patience = 900_000;

describe.skipIf(!browserIsThere)("a note struck in the page", () => {
  let bench: OpenBench;
  let page: Page;
  let text: string;

  beforeAll(async () => {
    bench = await openBench();
    ({ page } = await bench.page());
    const id = await begun(page);
    text = await page.evaluate(async (own) => {
      const answer = await fetch(`/api/instruments/${own}`);
      return ((await answer.json()) as { text: string }).text;
    }, id);
    page.setDefaultTimeout(120_000);
    await page.goto(`${bench.address()}?instrument=${id}&stage=voice&view=board`);
    await page.getByRole("grid", { name: /Note board/ }).waitFor({ timeout: patience });
  }, patience);
  afterAll(() => bench?.close());

  it(
    "has every main tone within 1 cent and its decay within 5 % of the model (HUA-SARKAR-1990)",
    async () => {
      await page.locator('[data-note="6/0"]').focus();
      await page.keyboard.press("Enter");
      await page.getByRole("radio", { name: "Listen" }).click();
      await page.getByText("as 32-bit floats").click();
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("button", { name: "Save as WAV" }).click(),
      ]);
      const bytes = readFileSync(await download.path());
      const samples = new Float32Array(new Uint8Array(bytes.subarray(58)).buffer);
      expect(bytes.toString("latin1", 0, 4)).toBe("RIFF");
      expect(samples.length).toBe(defaultRender.seconds * defaultRender.rate);
      const tones = await modelTones(text, 6, 0);
      const main = mainTones(tones);
      const { cents, decay } = toneGaps(samples, defaultRender, tones, main);
      expect(main.length).toBeGreaterThan(10);
      expect(cents).toBeLessThan(1);
      expect(decay).toBeLessThan(0.05);
    },
    patience,
  );

  it("stays under the ceiling of loudness", async () => {
    await page.getByRole("button", { name: "Chord" }).click();
    await page.getByText("Playing.").waitFor({ timeout: 60_000 });
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save as WAV" }).click(),
    ]);
    const bytes = readFileSync(await download.path());
    const samples = new Float32Array(new Uint8Array(bytes.subarray(58)).buffer);
    const peak = samples.reduce((top, x) => Math.max(top, Math.abs(x)), 0);
    expect(peak).toBeGreaterThan(0.01);
    expect(peak).toBeLessThan(10 ** (-3 / 20) + 1e-6);
  }, 120_000);
});

/** The id of an instrument begun now. */
async function begun(page: Page): Promise<string> {
  await page.getByRole("button", { name: "Begin with Small ladder" }).click({ timeout: patience });
  await page.waitForURL(/instrument=/);
  return new URL(page.url()).searchParams.get("instrument")!;
}

async function modelTones(text: string, string: number, fret: number) {
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error("the document in the store is at fault");
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const voice = await computeVoice(
    build,
    geometry,
    opened(stringSet(build)),
    alone(stageJobs),
    defaultBodySettings,
    fast,
  );
  return opened(noteTones(soundingBody(opened(voice)), string, fret));
}
