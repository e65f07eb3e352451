import { type Drawing, line, lineMm, type Mark, stroked, words } from "../displayList.ts";

const reach = 100;
const room = 8;

/**
 * 100 mm of paper with a tick every 10 mm, by which a printed sheet is measured: level or upright, for a printer errs
 * differently along and across.
 */
export function checkBar(way: "level" | "upright"): Drawing {
  const level = way === "level";
  const at = (along: number, off: number): readonly [number, number] =>
    level ? [room + along, 5 - off] : [5 - off, room + along];
  const tickAt = (along: number) => {
    const tall = along % 50 === 0 ? 4 : 2.5;
    return line(...at(along, 0), ...at(along, tall));
  };
  const ticks = Array.from({ length: 11 }, (_, i) => tickAt(10 * i));
  const pen = { ink: "ink", widthMm: lineMm.fine } as const;
  const label = "100 mm if printed true";
  const text: Mark = level
    ? words(label, room + reach + 3, 5, 3.4)
    : words(label, 9.2, room + reach / 2, 3.4, { anchor: "middle", turnDeg: -90 });
  return {
    widthMm: level ? 160 : 11,
    heightMm: level ? 7 : reach + 2 * room,
    title: `Check bar, ${way}`,
    description: `A bar 100 mm long, ${way}, to see whether the sheet was printed at its true size.`,
    marks: [stroked([line(...at(0, 0), ...at(reach, 0)), ...ticks], pen), text],
  };
}
