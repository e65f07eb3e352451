import type { Build } from "#engine/instrument";
import { backDepth } from "#engine/shells";
import { neckBack } from "../structure/neckBack.ts";
import { neckSize, rodBehindNut } from "../structure/neckBeam.ts";

/** Wood round one bar, m. */
export interface WoodAtRod {
  /** In the document, from 0. */
  readonly rod: number;
  readonly kind: "adjustable" | "carbon" | "steel";
  /** Between the board and the bar. */
  readonly over: number;
  /** Least under its outer lower corner, straight down to the back of the neck. */
  readonly under: number;
  /** Where that is, from the nut. */
  readonly fromNut: number;
  /** Its middle from the centreline, as they are taken to lie. */
  readonly aside: number;
  /** Under its line carried on to the nut, to the back of the head. */
  readonly underAtHead: number;
  /** From the nut along the head's face, where that line comes out of it: upper and lower edge; infinite on a straight head. */
  readonly leavesHead: readonly [upper: number, lower: number];
}

/** Wood between neighbouring bars, m (common practice, no source). */
const between = 3e-3;

/** Bars side by side about the centreline: adjustable ones in the middle, the others in turn beside them. */
function barPlaces(rods: Build["neck"]["rods"]): readonly number[] {
  const order = [...rods.keys()].sort(
    (a, b) => Number(rods[a]!.kind !== "adjustable") - Number(rods[b]!.kind !== "adjustable") || a - b,
  );
  const row: number[] = [];
  for (const [k, rod] of order.entries()) {
    if (k % 2 === 0) row.push(rod);
    else row.unshift(rod);
  }
  const wide = row.reduce((sum, rod) => sum + rods[rod]!.width + between, -between);
  const places = new Array<number>(rods.length).fill(0);
  let edge = -wide / 2;
  for (const rod of row) {
    places[rod] = edge + rods[rod]!.width / 2;
    edge += rods[rod]!.width + between;
  }
  return places;
}

export function woodAtRods(build: Build, length: number): readonly WoodAtRod[] {
  const { neck } = build;
  const places = barPlaces(neck.rods);
  return neck.rods.map((rod, i) => {
    const lower = rod.axisDepth + rod.height / 2;
    const upper = rod.axisDepth - rod.height / 2;
    const corner = Math.abs(places[i]!) + rod.width / 2;
    let least = { under: Number.POSITIVE_INFINITY, fromNut: 0 };
    const end = Math.min(length, rodBehindNut + rod.length);
    for (let k = 0; k <= 40; k++) {
      const fromNut = rodBehindNut + ((end - rodBehindNut) * k) / 40;
      const { width, deep } = neckSize(build, length, fromNut);
      const under = backDepth(neckBack(neck, width, deep), corner) - lower;
      if (under < least.under) least = { under, fromNut };
    }
    const slope = Math.tan(neck.head.angle);
    return {
      rod: i,
      kind: rod.kind,
      over: upper,
      ...least,
      aside: places[i]!,
      underAtHead: neck.head.thickness / Math.cos(neck.head.angle) - lower,
      leavesHead: [upper / slope, lower / slope],
    };
  });
}
