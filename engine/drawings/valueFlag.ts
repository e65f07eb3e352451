import { box, circle, filled, lineMm, type Mark, stroked, words } from "./displayList.ts";

/**
 * A dot on its place and a figure above or below it on a scrap of paper, so that it can be read on any tint. The scrap keeps
 * within a sheet of `sheetMm` in width and height.
 */
export function valueFlag(
  text: string,
  [x, y]: readonly [number, number],
  sizeMm: number,
  side: "above" | "below",
  sheetMm: readonly [number, number],
): readonly Mark[] {
  const width = text.length * sizeMm * 0.56 + 1.6;
  const height = sizeMm * 1.35;
  const away = sizeMm * 0.55;
  const within = (at: number, size: number, room: number) => Math.max(0.3, Math.min(room - size - 0.3, at));
  const left = within(x - width / 2, width, sheetMm[0]);
  const top = within(side === "above" ? y - height - away : y + away, height, sheetMm[1]);
  return [
    stroked([Float64Array.of(left + width / 2, top + height / 2, x, y)], {
      ink: "ink",
      widthMm: lineMm.thin,
    }),
    filled([circle(x, y, sizeMm * 0.22)], "paper", { ink: "ink", widthMm: lineMm.fine }),
    filled([box(left, top, width, height)], "paper", { ink: "ink", widthMm: lineMm.thin }),
    words(text, left + width / 2, top + sizeMm * 1.02, sizeMm, { anchor: "middle" }),
  ];
}
