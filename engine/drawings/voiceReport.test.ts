import { describe, expect, it } from "vitest";
import type { Level } from "#engine/verdicts";
import { day, type Ink, night } from "./inks.ts";
import { planSheet } from "./planSheet.ts";
import { levelRegions, shopWords } from "./shopWords.ts";
import { escaped, prose, svgFile } from "./svg.ts";
import { levelMark } from "./verdictSchedule.ts";
import { voiceReport } from "./voiceReport.ts";
import { fabricatedView } from "./voiceView.fixture.ts";

const view = fabricatedView();
const page = voiceReport(view);

describe("the report as a page", () => {
  it("needs nothing from outside: no address, script, import or linked file", () => {
    expect(page).not.toMatch(/https?:|\/\/[a-z]|<script|<link|@import|url\(|<img|<iframe|src=/i);
  });

  it("escapes what the maker typed", () => {
    expect(page).toContain("Made-up guitar &#60;for tests&#62;");
    expect(page).not.toContain("<for tests>");
    expect(escaped(`"a" & 'b'`)).toBe("&#34;a&#34; &#38; &#39;b&#39;");
  });

  it("puts what the design implies before every picture, and the limits and the stamp last", () => {
    const order = [
      `id="implies"`,
      `id="verdicts"`,
      `id="plan"`,
      `id="modes"`,
      `id="response"`,
      `id="board"`,
      `id="notes"`,
      `id="limits"`,
      "title-block",
    ];
    const body = page.slice(page.indexOf("<body>"));
    const places = order.map((key) => body.indexOf(key));
    expect(places.every((p) => p > 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(body).toContain(view.stamp.inputHash);
    for (const text of view.limits) expect(body).toContain(prose(text));
  });

  it("gives every picture a title and a description, and every id once", () => {
    const pictures = page.match(/<svg viewBox[^>]*role="img"[^>]*>/g)!;
    expect(pictures.length).toBe(3 + 9);
    for (const tag of pictures) {
      const [, title, description] = /aria-labelledby="(\S+) (\S+)"/.exec(tag)!;
      expect(page).toContain(`<title id="${title}">`);
      expect(page).toContain(`<desc id="${description}">`);
    }
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("has one heading of the first rank and never skips one", () => {
    const ranks = [...page.matchAll(/<h([1-6])/g)].map((m) => Number(m[1]));
    expect(ranks.filter((r) => r === 1)).toHaveLength(1);
    ranks.slice(1).forEach((rank, i) => {
      expect(rank - ranks[i]).toBeLessThanOrEqual(1);
    });
  });

  it("lists every note once, and says of those beyond the range that they are not foreseen", () => {
    const rows = page.slice(page.indexOf(`id="notes"`), page.indexOf(`id="limits"`));
    expect(rows.match(/<tr><th scope="row">/g)).toHaveLength(view.noteBoard.length);
    const first = rows.slice(rows.indexOf("String 1"), rows.indexOf("String 2"));
    expect(first).toContain("not foreseen");
  });

  it("closes what it opens", () => {
    const depth: string[] = [];
    for (const [, closing, name, rest] of page.slice(15).matchAll(/<(\/?)([a-z0-9]+)([^>]*)>/g)) {
      if (rest.endsWith("/") || ["meta", "br"].includes(name)) continue;
      if (closing === "") depth.push(name);
      else expect(depth.pop()).toBe(name);
    }
    expect(depth).toEqual([]);
  });
});

describe("verdicts on the page", () => {
  it("wear for each level a mark whose shape differs, with the word beside it", () => {
    const levels: readonly Level[] = ["good", "watch", "stop"];
    const shapes = levels.map((level) => levelMark(level).replace(/<svg[^>]*>/, ""));
    expect(new Set(shapes).size).toBe(3);
    for (const level of ["good", "watch"]) expect(page).toContain(`<span>${level}</span>`);
  });

  it("say what was computed, why, limit, source, what would change it and how sure; a meant one keeps its reason", () => {
    for (const v of view.verdicts) {
      const start = page.indexOf(`id="verdict-${v.id}"`);
      const block = page.slice(start, page.indexOf("</section>", start));
      const lower = (text: string) => prose(text).slice(1);
      for (const text of [v.computed, v.why, v.limit, v.source, v.whatWouldChange, v.sureness])
        expect(block).toContain(lower(text));
      expect(block.includes("Meant:")).toBe(v.meant !== undefined);
    }
  });
});

describe("shop words", () => {
  const said = shopWords(view)
    .flatMap((w) => w.sentences)
    .join(" ");

  it("say load, bridge, main modes with notes and range, loud and quiet, wolf and dead notes", () => {
    expect(said).toContain("6 strings pull 73 kgf (720 N) together.");
    expect(said).toContain("2.3 degrees toward the nut");
    expect(said).toContain("88 Hz (F2 +22 cents), likely between 85 Hz and 91 Hz (F2 to F#2)");
    expect(said).toContain("The main top mode at 171 Hz may make a wolf of F3");
    expect(said).toMatch(/die at least twice as fast .* near the body mode at 262 Hz/);
  });

  it("name notes by the instrument's own A4", () => {
    const flat = shopWords({ ...view, a4: 415.305 })
      .flatMap((w) => w.sentences)
      .join(" ");
    expect(flat).toContain("88 Hz (F#2 +22 cents)");
  });

  it("never claim what is not foreseen", () => {
    const blind = {
      ...view,
      noteBoard: view.noteBoard.map((r) => ({ ...r, levelDb: null, wolfIndex: null, deadIndex: null })),
    };
    const words = shopWords(blind)
      .flatMap((w) => w.sentences)
      .join(" ");
    expect(words).toContain("No note's level is foreseen.");
    expect(words).toContain("No wolf note can be foreseen or ruled out");
    expect(words).toContain("No dead note can be foreseen or ruled out");
    expect(voiceReport(blind)).toContain("not foreseen");
  });

  it("find a loud and a quiet stretch put into an even board", () => {
    const even = view.noteBoard.map((r) => ({
      ...r,
      levelDb: r.string === 6 ? (r.fret < 4 ? 76 : r.fret > 14 ? 65 : 70) : null,
    }));
    const { loud, quiet } = levelRegions(even);
    expect(loud).toHaveLength(1);
    expect(loud[0]).toMatchObject({ from: "D2", place: "on string 6 open and up" });
    expect(loud[0].overDb).toBeGreaterThan(4);
    expect(quiet).toHaveLength(1);
    expect(quiet[0].overDb).toBeLessThan(-4);
  });
});

describe("inks", () => {
  const channel = (hex: string, i: number) => {
    const c = Number.parseInt(hex.slice(1 + 2 * i, 3 + 2 * i), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  const luminance = (hex: string) =>
    0.2126 * channel(hex, 0) + 0.7152 * channel(hex, 1) + 0.0722 * channel(hex, 2);
  /** WCAG 2 contrast ratio. */
  const contrast = (a: string, b: string) => {
    const [low, high] = [luminance(a), luminance(b)].sort((p, q) => p - q);
    return (high + 0.05) / (low + 0.05);
  };

  it("used for words stand out from the paper by 4.5 to 1, day and night", () => {
    for (const sheet of [day, night])
      for (const ink of ["ink", "soft", "accent"] as const)
        expect(contrast(sheet[ink], sheet.paper), ink).toBeGreaterThan(4.5);
  });

  it("grow stronger step by step on both sides of rest, and outward never matches inward", () => {
    for (const sheet of [day, night]) {
      for (const side of ["out", "in"] as const) {
        const steps = [1, 2, 3, 4].map((k) => contrast(sheet[`${side}${k}` as Ink], sheet.paper));
        expect(steps).toEqual([...steps].sort((a, b) => a - b));
      }
      // Red minus blue tells brown from green-blue for every common colour blindness.
      for (const k of [1, 2, 3, 4] as const) {
        expect(channel(sheet[`out${k}`], 0) - channel(sheet[`out${k}`], 2)).toBeGreaterThan(0);
        expect(channel(sheet[`in${k}`], 0) - channel(sheet[`in${k}`], 2)).toBeLessThan(0);
      }
    }
  });
});

describe("a drawing as a file", () => {
  it("states its true size in mm", () => {
    const file = svgFile(planSheet(view.plan, view.board, view.hand));
    const [, width, box] = /width="([\d.]+)mm"[^>]*viewBox="0 0 ([\d.]+)/.exec(file)!;
    expect(width).toBe("186");
    expect(box).toBe(width);
  });
});
