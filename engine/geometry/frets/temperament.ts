/** How far along a string a fret stands. */
import { done, failed, type Outcome } from "#engine/numerics";
import type { Temperament } from "./boardSpec.ts";

/**
 * Distance from nut to fret over the string's length: 1 - 2^(-c/1200), c the cents above the open string; equal
 * temperament has c = 100 fret. `fret` may be any real number from 0; in a table, cents run straight between rows.
 * Equal temperament: ISO16, FRETEQ. Fails with 'temperament' if the table is too short, not rising or not finite.
 */
export function fretFraction(temperament: Temperament | undefined, fret: number): Outcome<number> {
  if (temperament === undefined || temperament.kind === "equal")
    return done(-Math.expm1((-fret / 12) * Math.LN2));
  const rows = [0, ...temperament.cents];
  const below = Math.min(Math.floor(fret), rows.length - 1);
  const above = Math.ceil(fret);
  if (above >= rows.length) {
    return failed(
      "temperament",
      `the table of cents has ${rows.length - 1} rows, fret ${fret} needs row ${above}`,
    );
  }
  for (let i = 1; i <= above; i++) {
    if (!(rows[i] > rows[i - 1]))
      return failed("temperament", `cents must rise: fret ${i} has ${rows[i]} after ${rows[i - 1]}`);
  }
  const cents = rows[below] + (fret - below) * (rows[above] - rows[below]);
  return done(-Math.expm1((-cents / 1200) * Math.LN2));
}

/**
 * The same for the line that stands square to the centreline, which need be no fret: any real number, before the nut
 * (below 0) or past the last row of a table, where it goes on in tempered semitones.
 */
export function squareFraction(temperament: Temperament | undefined, fret: number): Outcome<number> {
  const rows = temperament === undefined || temperament.kind === "equal" ? null : temperament.cents;
  if (rows === null || (fret >= 0 && fret <= rows.length)) return fretFraction(temperament, fret);
  const cents = fret < 0 ? 100 * fret : (rows[rows.length - 1] ?? 0) + 100 * (fret - rows.length);
  return done(-Math.expm1((-cents / 1200) * Math.LN2));
}
