/** Where strings stand across nut and saddle. */
import { done, failed, type Outcome } from "#engine/numerics";

/**
 * Place of each string between the outer two, as a share of their spread from string 1 (0) to the last (1). By "centres"
 * they are even; by "gaps" the free width between the edges of neighbours is the same everywhere:
 *   gap = (spread - sum of half diameters of neighbours) / (strings - 1).
 * `spread` is centre to centre of the outer strings, `diameters` string 1 first, m. Fails with 'spacing' where the
 * diameters are not one for each string, or leave no gap.
 */
export function stringShares(
  strings: number,
  spread: number,
  rule: "centres" | "gaps",
  diameters: readonly number[],
): Outcome<readonly number[]> {
  if (strings === 1) return done([0.5]);
  const last = strings - 1;
  if (rule === "centres") return done(Array.from({ length: strings }, (_, k) => k / last));
  if (diameters.length !== strings || !diameters.every((d) => d > 0 && Number.isFinite(d)))
    return failed("spacing", `${diameters.length} diameters above 0 are needed for ${strings} strings`);
  const halves = diameters.slice(1).map((d, k) => (d + diameters[k]) / 2);
  const gap = (spread - halves.reduce((sum, half) => sum + half, 0)) / last;
  if (!(gap > 0))
    return failed("spacing", `strings spread ${spread} m touch: the gap between them would be ${gap} m`);
  const shares = [0];
  for (const half of halves) shares.push(shares[shares.length - 1] + (gap + half) / spread);
  shares[last] = 1;
  return done(shares);
}
