import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { setupCards, slotCards } from "#engine/drawings";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { setupCardsView, slotCardsView } from "./cardViews.ts";
import { instrumentGeometry } from "./geometry.ts";
import { setupReport } from "./setup/setupReport.ts";
import { cutsReport } from "./slotCuts.ts";
import { slotsReport } from "./slots.ts";
import { stringSet } from "./stringSet.ts";

function cardsOf(hand: "right" | "left") {
  const text = readFileSync(new URL("../../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(JSON.stringify({ ...(JSON.parse(text) as object), hand }));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  const strings = opened(stringSet(build));
  const slots = slotsReport(build, geometry, strings);
  const setup = opened(setupReport(build, geometry, strings));
  const view = opened(slotCardsView(build, geometry, slots));
  return {
    cuts: opened(cutsReport(build, geometry)),
    slots,
    setup,
    view,
    pages: slotCards(view) + setupCards(setupCardsView(build, setup)),
  };
}

/** Cells of the body of one card's table, row by row. */
function cells(pages: string, id: string): string[][] {
  const section = pages.slice(pages.indexOf(`id="${id}"`));
  const body = section.slice(section.indexOf("<tbody>"), section.indexOf("</tbody>"));
  return body
    .match(/<tr>[\s\S]*?<\/tr>/g)!
    .map((row) =>
      [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map((m) =>
        m[1]!.replace(/<[^>]+>/g, "").replace(/\u00a0/g, " "),
      ),
    );
}

const mm = (m: number, decimals: number) => (m * 1000).toFixed(decimals);
const inch = (m: number) => (m / 0.0254).toFixed(3);
const right = cardsOf("right");
const left = cardsOf("left");

describe("the cards' numbers are the reports' own", () => {
  it("for every slot along the edges, its angle, along the strings, its diagonals, and its fret", () => {
    const { pages, cuts, slots } = right;
    const rows = {
      slots: cells(pages, "slots"),
      check: cells(pages, "slot-check"),
      frets: cells(pages, "frets"),
    };
    expect(rows.slots).toHaveLength(22);
    cuts.frets.forEach((f, i) => {
      const slot = slots.slots[i]!;
      expect(rows.slots[i]!.slice(0, 6)).toEqual([
        String(slot.fret),
        mm(f.bassEdgeM, 2),
        inch(f.bassEdgeM),
        mm(f.trebleEdgeM, 2),
        inch(f.trebleEdgeM),
        `${slot.angleDeg.toFixed(2).replace("-", "−")}°`,
      ]);
      const [lowest, highest] = [5, 0].map((s) => slots.strings[s]!.frets[slot.fret]!.nutToFretM);
      expect(rows.check[i]!.slice(0, 7)).toEqual([
        String(slot.fret),
        mm(lowest!, 2),
        inch(lowest!),
        mm(highest!, 2),
        inch(highest!),
        mm(f.fromNutBassToTrebleM, 2),
        mm(f.fromNutTrebleToBassM, 2),
      ]);
      expect(rows.frets[i]!.slice(1, 4)).toEqual([mm(f.slotM, 1), mm(f.wireM, 1), mm(f.tangM, 1)]);
    });
  });

  it("for bridge, string places and crowns", () => {
    const { pages, cuts, slots } = right;
    const values = (id: string) => cells(pages, id).map((row) => row[2]);
    const { bridge, stringsAcross } = cuts;
    expect(values("bridge")).toEqual(
      [bridge.lowestM, bridge.highestM, bridge.fromLowestNutToHighestM, bridge.fromHighestNutToLowestM].map(
        (m) => `${mm(m, 1)} mm`,
      ),
    );
    expect(values("nut")).toEqual(
      [...stringsAcross].reverse().map((s) => `${mm(s.fromBassEdgeAtNutM, 2)} mm`),
    );
    expect(values("saddle")).toEqual(
      [...slots.strings].reverse().map((s) => `${mm(s.saddleOffsetM!, 1)} mm`),
    );
  });

  it("for the setup", () => {
    const { pages, setup } = right;
    const values = (id: string) => cells(pages, id).map((row) => row[2]);
    const [treble, bass] = [setup.strings[0]!, setup.strings[5]!];
    expect(values("neck")).toEqual(
      [setup.neck.reliefM, bass.actionM[0]!, treble.actionM[0]!, bass.actionM[12]!, treble.actionM[12]!].map(
        (m) => `${mm(m, 2)} mm`,
      ),
    );
    const angles = setup.strings.map((s) => s.breakAngleDeg);
    expect(values("saddle-height")).toEqual([
      `${mm(setup.saddle.bassAskedM, 1)} mm`,
      `${mm(setup.saddle.trebleAskedM, 1)} mm`,
      `${mm(Math.abs(setup.neck.straightedgeOverBridgeM), 2)} mm`,
      `${Math.min(...angles).toFixed(0)}°`,
      `${Math.max(...angles).toFixed(0)}°`,
    ]);
  });

  it("stay the same for a left-handed guitar, whose pictures are the mirror image", () => {
    for (const id of [
      "slots",
      "slot-check",
      "frets",
      "nut",
      "bridge",
      "spacing",
      "saddle",
      "neck",
      "saddle-height",
    ]) {
      const own = cells(right.pages, id);
      expect(cells(left.pages, id)).toEqual(own);
    }
    expect(left.pages).toContain("left-handed");
    const edge = (side: typeof left) => side.view.board.bassEdge[1];
    expect(edge(left)[0]).toBeCloseTo(edge(right)[0], 12);
    expect(edge(left)[1]).toBeCloseTo(-edge(right)[1], 12);
    const [p, q] = [left.view.bridge, right.view.bridge].map((polygon) =>
      [...polygon].reduce((sum, v, i) => (i % 2 === 0 ? sum : sum + v * polygon[i - 1]!), 0),
    );
    expect(p).toBeCloseTo(-q!, 12);
  });
});
