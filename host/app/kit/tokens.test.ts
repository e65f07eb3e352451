import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const read = (path: string): string => readFileSync(new URL(path, import.meta.url), "utf8");

/** Relative luminance and contrast of WCAG 2.2 (sRGB), from memory. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light! + 0.05) / (dark! + 0.05);
}

const tokens = new Map(
  [...read("./tokens.css").matchAll(/--(\w+): light-dark\((#\w{6}), (#\w{6})\)/g)].map(
    ([, ink, day, night]) => [ink!, { day: day!, night: night! }],
  ),
);

describe("the page's inks", () => {
  it("are those of the printed reports, by day and by night", () => {
    const source = read("../../../engine/drawings/inks.ts");
    for (const light of ["day", "night"] as const) {
      const sheet = source.slice(source.indexOf(`export const ${light}:`)).split("};")[0]!;
      const inks = [...sheet.matchAll(/(\w+): "(#\w{6})"/g)];
      expect(inks.length).toBe(16);
      for (const [, ink, colour] of inks) expect([ink, tokens.get(ink!)?.[light]]).toEqual([ink, colour]);
    }
  });

  it("that carry text stand out from paper by 4.5 to 1, and paper from ink where they are turned round", () => {
    for (const light of ["day", "night"] as const)
      for (const ink of ["ink", "soft", "accent"])
        expect(contrast(tokens.get(ink)![light], tokens.get("paper")![light])).toBeGreaterThanOrEqual(4.5);
  });
});
