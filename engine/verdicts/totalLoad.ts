import { sayForce } from "./say.ts";
import type { Verdict } from "./verdict.ts";

const heavy = 900;

/** Sum of the string tensions (N). Above 900 N (about 92 kgf, a heavy set at standard pitch) watch; never further. */
export function totalLoad(tensions: readonly number[]): Verdict {
  const total = tensions.reduce((sum, t) => sum + t, 0);
  const level = total > heavy ? "watch" : "good";
  return {
    id: "total-load",
    title: "Total string load",
    level,
    computed: `${tensions.length} strings pull ${sayForce(total)} together`,
    limit: `watch above ${sayForce(heavy)}; light steel sets pull 70 to 80 kgf`,
    source: "common practice, no source",
    why:
      level === "watch"
        ? "this is more than a heavy set at standard pitch pulls: neck, joint and top carry it for decades"
        : "this is within what a light top is customarily built for",
    whatWouldChange:
      "gauges first (tension goes with the mass of the string), then pitch and scale length (with the square of each)",
    sureness: "within 2 % for the gauges and pitches given",
    figures: { total },
    canHurt: false,
  };
}
