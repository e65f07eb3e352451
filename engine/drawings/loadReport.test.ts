import { describe, expect, it } from "vitest";
import { deflectionSheet } from "./deflectionSheet.ts";
import { type Drawing, flatMarks, marksOf, type PathMark, type TextMark } from "./displayList.ts";
import { placedBoard } from "./drawnGuitar.fixture.ts";
import { loadDrawings, loadReport } from "./loadReport.ts";
import { fabricatedLoad } from "./loadView.fixture.ts";
import { sayPlace } from "./loadWords.ts";
import { exaggeration, sectionSheet } from "./sectionSheet.ts";
import { stressOf } from "./stressSheet.ts";
import { prose } from "./svg.ts";
import { roundEdges } from "./tintedPlate.ts";

const view = fabricatedLoad();
const page = loadReport(view);
const section = view.section!;

function paths(drawing: Drawing, name: string): readonly PathMark[] {
  return marksOf(drawing, name).filter((m): m is PathMark => m.kind === "path");
}

function texts(drawing: Drawing, name: string): readonly string[] {
  return marksOf(drawing, name)
    .filter((m): m is TextMark => m.kind === "text")
    .map((m) => m.text);
}

function insideSheet({ marks, widthMm, heightMm }: Drawing): boolean {
  return flatMarks(marks).every((m) =>
    m.kind === "text"
      ? m.xMm >= 0 && m.xMm <= widthMm && m.yMm >= 0 && m.yMm <= heightMm
      : m.pieces.every((p) => p.every((v, i) => v > -0.5 && v < (i % 2 === 0 ? widthMm : heightMm) + 0.5)),
  );
}

describe("the load report as a page", () => {
  it("needs nothing from outside and closes what it opens", () => {
    expect(page).not.toMatch(/https?:|\/\/[a-z]|<script|<link|@import|url\(|<img|<iframe|src=/i);
    const depth: string[] = [];
    for (const [, closing, name, rest] of page.slice(15).matchAll(/<(\/?)([a-z0-9]+)([^>]*)>/g)) {
      if (rest.endsWith("/") || ["meta", "br"].includes(name)) continue;
      if (closing === "") depth.push(name);
      else expect(depth.pop()).toBe(name);
    }
    expect(depth).toEqual([]);
  });

  it("has one first heading, never skips a rank, names every table and every column, and every id once", () => {
    const ranks = [...page.matchAll(/<h([1-6])/g)].map((m) => Number(m[1]));
    expect(ranks.filter((r) => r === 1)).toHaveLength(1);
    ranks.slice(1).forEach((rank, i) => {
      expect(rank - ranks[i]).toBeLessThanOrEqual(1);
    });
    const tables = page.match(/<table[\s\S]*?<\/table>/g)!;
    expect(tables.length).toBeGreaterThan(8);
    for (const one of tables) {
      expect(one).toMatch(/<caption>[^<]+<\/caption>/);
      expect(one).not.toMatch(/<th scope="col"[^>]*><\/th>/);
      const columns = one.match(/<th scope="col"/g)!.length;
      for (const row of one.match(/<tr>[\s\S]*?<\/tr>/g)!.slice(1))
        expect(row.match(/<t[hd]/g)).toHaveLength(columns);
    }
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("escapes what the maker typed", () => {
    expect(page).toContain("back &#60;bar&#62; 1");
    expect(page).not.toContain("<bar>");
  });

  it("says that the model is elastic with perfect joints, how well creep is known, and where it can hurt", () => {
    const end = page.slice(page.indexOf(`id="cautions"`));
    for (const text of ["Elastic model, perfect joints assumed", "Creep is known within a factor of 2 to 3"])
      expect(end).toContain(text);
    for (const text of [...view.cautions, ...view.limits]) expect(end).toContain(prose(text));
  });

  it("leaves out what was not computed, and claims nothing of it", () => {
    const bare = loadReport(fabricatedLoad(true));
    for (const id of ["stress", "glue", "margins", "variants", "tunings", "climate", "years"]) {
      expect(page).toContain(`<section class="sheet" id="${id}"`);
      expect(bare).not.toContain(`<section class="sheet" id="${id}"`);
    }
    expect(bare).not.toMatch(/NaN|undefined|null/);
    expect(page).not.toMatch(/NaN|undefined|null/);
  });
});

describe("the margins", () => {
  const part = page.slice(page.indexOf(`id="margins"`), page.indexOf(`id="variants"`));

  it("show every row once with the number of its limit, peaks apart, what is plenty folded away", () => {
    const [firm, peaks] = [part.indexOf("Margins below"), part.indexOf("Peaks at a point")];
    const places = view.margins.map((row) => part.indexOf(prose(row.part)));
    expect(places.every((p) => p > firm)).toBe(true);
    const peak = view.margins.findIndex((row) => row.peak);
    expect(places[peak]).toBeGreaterThan(peaks);
    const folded = part.slice(part.indexOf("<details"), part.indexOf("</details>"));
    const plenty = view.margins.filter((row) => row.margin !== null && row.margin >= 3);
    expect(plenty.length).toBeGreaterThan(0);
    for (const row of plenty) expect(folded).toContain(prose(row.part));
  });

  it("name the source of every limit, and claim no margin where no strength is known", () => {
    const sources = part.slice(part.indexOf("Where each limit comes from"));
    for (const row of view.margins) {
      expect(sources).toContain(prose(row.source));
      expect(sources).toContain(prose(row.rules));
    }
    expect(view.margins.filter((row) => row.margin === null)).toHaveLength(1);
    expect(part.match(/none claimed/g)).toHaveLength(1);
  });

  it("stand in the shop words, a peak called a peak", () => {
    const words = page.slice(page.indexOf(`id="implies"`), page.indexOf(`id="verdicts"`));
    const least = view.margins.find((row) => row.margin !== null && !row.peak)!;
    expect(words).toContain(`it would bear ${least.margin!.toFixed(1)} times this.`);
    expect(words).toMatch(/At a point, bridge on the top, rear edge.*give at such a peak before they part/);
    expect(words).toContain("no margin is claimed there");
  });
});

describe("the deflected guitar", () => {
  it("is drawn in plan with the figures of its highest and lowest place, within its sheet", () => {
    const plan = deflectionSheet(view)!;
    const rises = [...view.deflection.rise];
    expect(texts(plan, "highest")).toEqual([`+${(Math.max(...rises) * 1000).toFixed(2)} mm`]);
    expect(texts(plan, "lowest")).toEqual([`−${(-Math.min(...rises) * 1000).toFixed(2)} mm`]);
    expect(insideSheet(plan)).toBe(true);
    expect(
      deflectionSheet({
        ...view,
        deflection: { ...view.deflection, rise: view.deflection.rise.map(() => 0) },
      }),
    ).toBeNull();
  });

  it("is drawn in section with every shift as many times too large as it says", () => {
    const sheet = sectionSheet(view, section);
    const factor = exaggeration(section);
    expect(sheet.description).toContain(`${factor} times too large`);
    expect(page).toContain(`drawn ${factor} times too far`);
    const scale = 1000 / Number(/1 : ([\d.]+)/.exec(sheet.description)![1]);
    const open = section.lines.filter(({ part }) => part !== "bridge");
    const [rest] = paths(sheet, "at rest");
    const [moved] = paths(sheet, "under load");
    const end = open[2].rest.length - 1;
    const drawn = rest.pieces[2][end] - moved.pieces[2][end];
    // the scale is written to one decimal
    expect(drawn / (open[2].shift[end] * factor * scale)).toBeCloseTo(1, 1);
    expect(insideSheet(sheet)).toBe(true);
  });

  it("keeps the largest shift below a tenth of the guitar and above a fiftieth", () => {
    const largest = Math.max(...section.lines.flatMap(({ shift }) => [...shift].map(Math.abs)));
    const share = (largest * exaggeration(section)) / 0.85;
    expect(share).toBeLessThan(0.1);
    expect(share).toBeGreaterThan(0.02);
  });

  it("turns the neck of a left-handed guitar to the right", () => {
    const nutOf = (hand: "right" | "left") => paths(sectionSheet({ hand }, section), "string")[0].pieces[0];
    const [right, left] = [nutOf("right"), nutOf("left")];
    expect(right[2]).toBeLessThan(right[0]);
    expect(left[2]).toBeGreaterThan(left[0]);
    expect(left[3]).toBeCloseTo(right[3], 9);
  });
});

describe("the stress maps", () => {
  it("flag the greatest pull and the greatest pressure of each face with their figures", () => {
    const drawings = loadDrawings(view);
    expect([...drawings.keys()].filter((id) => id.startsWith("stress-"))).toHaveLength(4);
    for (const direction of ["along", "across"] as const)
      for (const face of ["outside", "inside"] as const) {
        const drawing = drawings.get(`stress-top-${direction}-${face}`)!;
        const used = new Set(view.stresses[0].mesh.triangles);
        const values = [...stressOf(view.stresses[0], direction, face)].filter((_, n) => used.has(n));
        expect(texts(drawing, "most pulled")).toEqual([`+${(Math.max(...values) / 1e6).toFixed(1)}`]);
        expect(texts(drawing, "most pressed")).toEqual([`−${(-Math.min(...values) / 1e6).toFixed(1)}`]);
        expect(insideSheet(drawing)).toBe(true);
      }
  });

  it("change tint at round values, the strongest below the largest stress", () => {
    expect(roundEdges(4.03e7)).toEqual([2e6, 5e6, 1e7, 2e7]);
    expect(roundEdges(1.3)).toEqual([0.1, 0.2, 0.5, 1]);
    for (const largest of [1e-4, 0.99e-3, 2.3, 1e6, 6e6]) {
      const edges = roundEdges(largest);
      expect(edges[3]).toBeLessThanOrEqual(0.85 * largest);
      expect(edges[3]).toBeGreaterThan(0.3 * largest);
    }
  });
});

describe("places", () => {
  it("are told from the tail and from the centreline, bass and treble by the hand", () => {
    expect(sayPlace(0.2124, 0.0312, "right")).toBe("212 mm from the tail, 31 mm to the bass side");
    expect(sayPlace(0.2124, 0.0312, "left")).toBe("212 mm from the tail, 31 mm to the treble side");
    expect(sayPlace(0.2, 0, "right")).toBe("200 mm from the tail, on the centreline");
    // the drawn plan of a left-handed guitar has its bass side where y is negative
    expect(placedBoard(true).bassEdge[0][1]).toBeLessThan(0);
  });
});
