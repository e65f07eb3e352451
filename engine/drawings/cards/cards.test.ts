import { describe, expect, it } from "vitest";
import { flatMarks, marksOf, type PathMark, type TextMark } from "../displayList.ts";
import { boardSketch, bridgeSketch } from "./boardSketch.ts";
import { fabricatedSetupCards, fabricatedSlotCards } from "./cards.fixture.ts";
import { checkBar } from "./checkBar.ts";
import { acrossSketch, saddleSketch } from "./saddleSketch.ts";
import { setupCardList, setupCards } from "./setupCards.ts";
import { neckSketch, saddleEndSketch } from "./sideSketch.ts";
import { slotCardList, slotCards } from "./slotCards.ts";

const view = fabricatedSlotCards();
const setup = fabricatedSetupCards();
const pages = [slotCards(view), setupCards(setup)];
const cards = [...slotCardList(view), ...setupCardList(setup)];
const card = (id: string) => cards.find((c) => c.id === id)!;
const numbersOf = (id: string) => {
  const { content } = card(id);
  return content.kind === "numbers" ? content.rows : [];
};
const tableOf = (id: string) => {
  const { content } = card(id);
  return content.kind === "table" ? content.rows : [];
};
const mm = (m: number, decimals: number) => (m * 1000).toFixed(decimals);
const inch = (m: number, decimals: number) => (m / 0.0254).toFixed(decimals);

describe("a card", () => {
  it("bears six numbers at most, if it is not a list by fret", () => {
    for (const { content } of cards)
      if (content.kind === "numbers") expect(content.rows.length).toBeLessThanOrEqual(6);
    expect(cards.filter(({ content }) => content.kind === "table").map(({ id }) => id)).toEqual([
      "slots",
      "slot-check",
      "frets",
    ]);
  });

  it("has a box to tick and room for what was found in every row, and a box for every step", () => {
    for (const page of pages) {
      for (const section of page.match(/<section[\s\S]*?<\/section>/g)!) {
        const rows = section.slice(section.indexOf("<tbody>"), section.indexOf("</tbody>")).match(/<tr>/g)!;
        const boxes = section.match(/class="tick"/g)!.length;
        const steps = section.slice(section.indexOf(`class="boxes"`)).match(/<li>/g)!.length;
        expect(section.match(/<td class="found"><\/td>/g)).toHaveLength(rows.length);
        expect(boxes).toBe(rows.length + steps);
      }
    }
  });

  it("is one page that needs nothing from outside, escapes what the maker typed and closes what it opens", () => {
    for (const page of pages) {
      expect(page).not.toMatch(/https?:|\/\/[a-z]|<script|<link|@import|url\(|<img|<iframe|src=/i);
      expect(page).toContain("Made-up guitar &#60;for tests&#62;");
      expect(page).not.toContain("<for tests>");
      expect(page).toContain("break-after:page");
      expect(page).not.toMatch(/NaN|undefined|null/);
      const depth: string[] = [];
      for (const [, closing, name, rest] of page.slice(15).matchAll(/<(\/?)([a-z0-9]+)([^>]*)>/g)) {
        if (rest.endsWith("/") || ["meta", "br"].includes(name)) continue;
        if (closing === "") depth.push(name);
        else expect(depth.pop()).toBe(name);
      }
      expect(depth).toEqual([]);
    }
  });

  it("has its heading under the page's, a caption and a name for every column, a title for every picture, every id once", () => {
    for (const page of pages) {
      expect(page.match(/<h1/g)).toHaveLength(1);
      expect(page.match(/<h2/g)).toHaveLength(page.match(/<section/g)!.length);
      expect(page.match(/<caption>[^<]+<\/caption>/g)).toHaveLength(page.match(/<table/g)!.length);
      expect(page).not.toMatch(/<th scope="col"[^>]*><\/th>/);
      for (const tag of page.match(/<svg viewBox[^>]*role="img"[^>]*>/g)!) {
        const [, title, description] = /aria-labelledby="(\S+) (\S+)"/.exec(tag)!;
        expect(page).toContain(`<title id="${title}">`);
        expect(page).toContain(`<desc id="${description}">`);
      }
      const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
      expect(new Set(ids).size).toBe(ids.length);
    }
  });

  it("warns of wire ends, strings under tension, glue and a hot car where they belong, and defers to safety sheets", () => {
    expect(card("frets").caution).toMatch(/wire ends.*safety sheet/);
    expect(card("bridge").caution).toMatch(/safety sheet/);
    expect(card("saddle").caution).toMatch(/under tension/);
    expect(card("neck").caution).toMatch(/under tension.*hot car/);
  });
});

describe("the slot card", () => {
  it("lists every slot from the nut along both edges, mm to 0.01 and inch to 0.001, with its angle", () => {
    expect(tableOf("slots")).toEqual(
      view.frets.map((f) => [
        String(f.fret),
        mm(f.bassEdge, 2),
        inch(f.bassEdge, 3),
        mm(f.trebleEdge, 2),
        inch(f.trebleEdge, 3),
        `${f.angleDeg.toFixed(2).replace("-", "−")}°`,
      ]),
    );
  });

  it("checks them along the outer strings and by both diagonals", () => {
    expect(tableOf("slot-check")).toEqual(
      view.frets.map((f) => [
        String(f.fret),
        mm(f.lowestString, 2),
        inch(f.lowestString, 3),
        mm(f.highestString, 2),
        inch(f.highestString, 3),
        mm(f.nutBassToTreble, 2),
        mm(f.nutTrebleToBass, 2),
      ]),
    );
  });

  it("says from the nut, never fret to fret, and never mark slots from paper; bars check the print both ways", () => {
    expect(card("slots").how).toContain("from the nut, never fret to fret");
    expect(card("slots").how).toContain("never mark slots from paper");
    for (const way of ["level", "upright"] as const) {
      const [bar] = flatMarks(checkBar(way).marks).filter((m): m is PathMark => m.kind === "path");
      const p = bar.pieces[0];
      expect(Math.hypot(p[2] - p[0], p[3] - p[1])).toBe(100);
      expect(p[way === "level" ? 3 : 2]).toBe(p[way === "level" ? 1 : 0]);
    }
    // drawn at true size: as many mm on the page as in the drawing
    const level = checkBar("level");
    const upright = checkBar("upright");
    expect(pages[0]).toContain(`.level svg{width:${level.widthMm}mm;height:${level.heightMm}mm`);
    expect(pages[0]).toContain(`.upright svg{width:${upright.widthMm}mm;height:${upright.heightMm}mm`);
  });
});

describe("the cards of numbers", () => {
  it("give nut to saddle line along strings 6 and 1 and both diagonals", () => {
    const { lowest, highest, lowestNutToHighest, highestNutToLowest } = view.saddleLine;
    expect(numbersOf("bridge").map((r) => r.value)).toEqual(
      [lowest, highest, lowestNutToHighest, highestNutToLowest].map((m) => `${mm(m, 1)} mm`),
    );
    expect(numbersOf("bridge").map((r) => r.mark)).toEqual(["A", "B", "C", "D"]);
  });

  it("give every string its place across nut and saddle line, the lowest first", () => {
    const reversed = [...view.strings].reverse();
    expect(numbersOf("nut").map((r) => [r.mark, r.value])).toEqual(
      reversed.map((s) => [String(s.string), `${mm(s.acrossNut, 2)} mm`]),
    );
    expect(numbersOf("spacing").map((r) => [r.mark, r.value])).toEqual(
      reversed.slice(1).map((s) => [String(s.string), `${mm(s.acrossSaddle, 2)} mm`]),
    );
  });

  it("give each crown behind the line, and no number where the string cannot be played", () => {
    expect(numbersOf("saddle").map((r) => r.value)).toEqual(
      [...view.strings]
        .reverse()
        .map((s) => (s.saddleOffset === null ? "none" : `${mm(s.saddleOffset, 1)} mm`)),
    );
  });

  it("give relief, nut, action, saddle and break angle of the setup", () => {
    expect(numbersOf("neck").map((r) => [r.value, r.also])).toEqual(
      [setup.relief, setup.nutBass, setup.nutTreble, setup.actionBass, setup.actionTreble].map((m) => [
        `${mm(m, 2)} mm`,
        `${inch(m, 3)} in`,
      ]),
    );
    expect(numbersOf("saddle-height").map((r) => r.value)).toEqual([
      "13.6 mm",
      "12.3 mm",
      "0.24 mm",
      "17°",
      "23°",
    ]);
    expect(numbersOf("saddle-height")[2].what).toContain("meets the bridge");
  });
});

describe("the sketches", () => {
  const left = fabricatedSlotCards("left");
  const pieces = (marks: readonly (PathMark | TextMark)[]) =>
    marks.filter((m): m is PathMark => m.kind === "path").flatMap((m) => m.pieces);
  const meanX = (all: readonly Float64Array[]) => {
    const xs = all.flatMap((p) => [...p].filter((_, i) => i % 2 === 0));
    return xs.reduce((sum, x) => sum + x, 0) / xs.length;
  };

  it("stay on their sheets, for either hand", () => {
    for (const v of [view, left])
      for (const d of [
        boardSketch(v, "edges"),
        boardSketch(v, "checks"),
        bridgeSketch(v),
        saddleSketch(v),
        acrossSketch(v, "nut"),
        acrossSketch(v, "saddle"),
        neckSketch(v.hand),
        saddleEndSketch(v.hand),
      ])
        for (const m of flatMarks(d.marks)) {
          const points = m.kind === "text" ? [Float64Array.of(m.xMm, m.yMm)] : m.pieces;
          for (const p of points)
            p.forEach((c, i) => {
              expect(c).toBeGreaterThan(-0.5);
              expect(c).toBeLessThan((i % 2 === 0 ? d.widthMm : d.heightMm) + 0.5);
            });
        }
  });

  it("turn a left-handed guitar's neck to the right and its bass side to the right of the bridge", () => {
    const nut = (v: typeof view) => meanX(pieces(marksOf(boardSketch(v, "edges"), "nut")));
    expect(nut(view)).toBeLessThan(93);
    expect(nut(left)).toBeGreaterThan(93);
    const bass = (v: typeof view) => meanX(pieces(marksOf(saddleSketch(v), "crown 6")));
    const treble = (v: typeof view) => meanX(pieces(marksOf(saddleSketch(v), "crown 1")));
    expect(bass(view)).toBeLessThan(treble(view));
    expect(bass(left)).toBeGreaterThan(treble(left));
  });

  it("draw each crown as far behind the theoretical line as its number says, to one scale", () => {
    const sketch = saddleSketch(view);
    const scales = view.strings.flatMap((s) => {
      if (s.saddleOffset === null) return [];
      const [run] = pieces(marksOf(sketch, `crown ${s.string}`));
      return [Math.hypot(run[2] - run[0], run[3] - run[1]) / s.saddleOffset];
    });
    expect(scales).toHaveLength(5);
    for (const scale of scales) expect(scale / scales[0]).toBeCloseTo(1, 9);
    expect(marksOf(sketch, "crown 4")).toHaveLength(0);
  });
});
