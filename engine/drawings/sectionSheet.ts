import { formatQuantity } from "#engine/units";
import { type Drawing, filled, group, lineMm, type Mark, stroked, words } from "./displayList.ts";
import type { LoadSheetView, SectionView } from "./loadView.ts";
import { sayScale } from "./scaleBar.ts";

const widthMm = 186;
const margin = 4;
/** The largest shift as it is drawn, a share of the guitar's length at most. */
const shown = 0.09;
const factors = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** How many times too large the shifts are drawn: a round number that keeps the largest of them small against the guitar. */
export function exaggeration(section: SectionView): number {
  let largest = 0;
  let [low, high] = [Infinity, -Infinity];
  for (const { rest, shift } of section.lines)
    for (let i = 0; i < rest.length; i += 2) {
      largest = Math.max(largest, Math.hypot(shift[i], shift[i + 1]));
      low = Math.min(low, rest[i]);
      high = Math.max(high, rest[i]);
    }
  const room = shown * (high - low);
  return factors.findLast((f) => f * largest <= room) ?? 1;
}

/**
 * The guitar cut along its centreline, seen from the side with the top up: at rest in thin lines, under the strings in heavy ones,
 * its shifts drawn many times too large against the body's edge, which is taken to stay.
 */
export function sectionSheet(view: Pick<LoadSheetView, "hand">, section: SectionView): Drawing {
  const factor = exaggeration(section);
  const chains = section.lines.map((line) => ({ ...line, moved: moved(line.rest, line.shift, factor) }));
  const all = [...chains.flatMap(({ rest, moved: m }) => [rest, m])];
  const range = (axis: 0 | 1) => {
    const values = all.flatMap((c) => [...c].filter((_, i) => i % 2 === axis));
    return [Math.min(...values), Math.max(...values)] as const;
  };
  const [minX, maxX] = range(0);
  const [minZ, maxZ] = range(1);
  const mmPerMetre = (widthMm - 2 * margin) / (maxX - minX);
  const way = view.hand === "right" ? -1 : 1;
  const middle = (minX + maxX) / 2;
  const at = (x: number, z: number): readonly [number, number] => [
    widthMm / 2 + way * (x - middle) * mmPerMetre,
    margin + 5 + (maxZ - z) * mmPerMetre,
  ];
  const place = (chain: Float64Array) =>
    Float64Array.from(chain, (_, i) => at(chain[i - (i % 2)], chain[i - (i % 2) + 1])[i % 2]);
  const bottom = margin + 5 + (maxZ - minZ) * mmPerMetre;
  const bridge = chains.filter(({ part }) => part === "bridge");
  const open = chains.filter(({ part }) => part !== "bridge");
  const strings = section.string === null ? [] : [section.string];
  return {
    widthMm,
    heightMm: bottom + 11,
    title: "Section along the centreline under the strings",
    description: `The guitar from the side at ${sayScale(mmPerMetre)}: at rest in thin lines, under the strings in heavy ones with every shift drawn ${factor} times too large. ${nutWords(section)}`,
    marks: [
      group("bridge under load", [
        filled(
          bridge.map((c) => place(c.moved)),
          "rosewood",
          { ink: "ink", widthMm: lineMm.medium },
        ),
      ]),
      group("at rest", [
        stroked(
          open.map((c) => place(c.rest)),
          { ink: "soft", widthMm: lineMm.thin },
        ),
        stroked(
          bridge.map((c) => place(c.rest)),
          { ink: "soft", widthMm: lineMm.thin },
          true,
        ),
      ]),
      group("under load", [
        stroked(
          open.map((c) => place(c.moved)),
          { ink: "ink", widthMm: lineMm.heavy },
        ),
      ]),
      group("string", [
        stroked(
          strings.map((s) => place(moved(s.rest, s.shift, factor))),
          { ink: "accent", widthMm: lineMm.fine },
        ),
      ]),
      ...key(factor, bottom + 7),
    ],
  };
}

function moved(rest: Float64Array, shift: Float64Array, factor: number): Float64Array {
  return rest.map((v, i) => v + factor * shift[i]);
}

function key(factor: number, y: number): readonly Mark[] {
  const sample = (x: number, ink: "soft" | "ink" | "accent", width: number) =>
    stroked([Float64Array.of(x, y - 1.2, x + 10, y - 1.2)], { ink, widthMm: width });
  return [
    group("key", [
      sample(margin, "soft", lineMm.thin),
      words("at rest", margin + 12, y, 3.4),
      sample(margin + 34, "ink", lineMm.heavy),
      words(`under the strings, ${factor} times too far`, margin + 46, y, 3.4),
      sample(margin + 112, "accent", lineMm.fine),
      words("middle of the strings", margin + 124, y, 3.4),
    ]),
  ];
}

/** Where the nut goes, in words. */
function nutWords({ string }: SectionView): string {
  if (string === null) return "";
  const rise = string.shift[string.shift.length - 1];
  return `The nut ${rise >= 0 ? "rises" : "sinks"} by ${formatQuantity(Math.abs(rise), "mm", 2)}.`;
}
