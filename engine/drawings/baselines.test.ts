import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { boardSketch, bridgeSketch } from "./cards/boardSketch.ts";
import { fabricatedSlotCards } from "./cards/cards.fixture.ts";
import { acrossSketch, saddleSketch } from "./cards/saddleSketch.ts";
import { neckSketch, saddleEndSketch } from "./cards/sideSketch.ts";
import type { Drawing } from "./displayList.ts";
import { loadDrawings } from "./loadReport.ts";
import { fabricatedLoad } from "./loadView.fixture.ts";
import { modeSheet } from "./modeSheet.ts";
import { noteBoardSheet } from "./noteBoardSheet.ts";
import { planSheet } from "./planSheet.ts";
import { responseChart } from "./responseChart.ts";
import { svgFile } from "./svg.ts";
import { fabricatedView } from "./voiceView.fixture.ts";

const view = fabricatedView();
const cards = fabricatedSlotCards();
const load = loadDrawings(fabricatedLoad());
const drawings: Readonly<Record<string, Drawing>> = {
  plan: planSheet(view.plan, view.board, view.hand),
  board: noteBoardSheet(view),
  response: responseChart(view),
  mode: modeSheet(view.modes[4], view)!,
  deflection: load.get("deflection-plan")!,
  section: load.get("deflection-section")!,
  stress: load.get("stress-top-across-outside")!,
  "card-slots": boardSketch(cards, "edges"),
  "card-slot-check": boardSketch(cards, "checks"),
  "card-bridge": bridgeSketch(cards),
  "card-nut": acrossSketch(cards, "nut"),
  "card-saddle": saddleSketch(cards),
  "card-setup": neckSketch("right"),
  "card-saddle-height": saddleEndSketch("right"),
};

/**
 * The drawings as they were last looked at. A picture that changes fails here and is written beside the old one
 * (name.new.svg); look at both, and rename it if it is meant. A missing baseline fails as well.
 */
describe("a drawing looks as it did when it was last looked at", () => {
  for (const [name, drawing] of Object.entries(drawings)) {
    it(name, () => {
      const golden = new URL(`./golden/${name}.svg`, import.meta.url);
      const found = svgFile(drawing);
      const kept = existsSync(golden) ? readFileSync(golden, "utf8") : "";
      if (found !== kept) {
        mkdirSync(new URL("./golden/", import.meta.url), { recursive: true });
        writeFileSync(new URL(`./golden/${name}.new.svg`, import.meta.url), found);
      }
      expect(found === kept, `see golden/${name}.new.svg`).toBe(true);
    });
  }
});
