import { box, filled, group, lineMm, type Mark, stroked, words } from "./displayList.ts";

/** A bar of `lengthMm` of the guitar at a sheet scale, black and white by tenths, its length written at its end. */
export function scaleBar(xMm: number, yMm: number, lengthMm: number, mmPerMetre: number): Mark {
  const total = (lengthMm / 1000) * mmPerMetre;
  const step = total / 10;
  const pen = { ink: "ink", widthMm: lineMm.thin } as const;
  return group("scale bar", [
    stroked([box(xMm, yMm, total, 1.2)], pen, true),
    filled(
      Array.from({ length: 5 }, (_, i) => box(xMm + 2 * i * step, yMm, step, 1.2)),
      "ink",
    ),
    words("0", xMm, yMm + 4.8, 3.4, { anchor: "middle" }),
    words(`${lengthMm} mm`, xMm + total, yMm + 4.8, 3.4, { anchor: "middle" }),
  ]);
}

/** "1 : 5" from sheet mm per metre. */
export function sayScale(mmPerMetre: number): string {
  const ratio = 1000 / mmPerMetre;
  return `1 : ${Number.isInteger(Math.round(ratio * 100) / 100) ? Math.round(ratio) : ratio.toFixed(1)}`;
}
