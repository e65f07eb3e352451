import { sayCount, sayLength, sayList } from "./say.ts";
import type { Verdict } from "./verdict.ts";

/** A place on a curve where curvature misbehaves. */
export interface CurveFault {
  /** jump: curvature is not continuous; waver: an extremum of curvature that the shape does not need. */
  readonly kind: "jump" | "waver";
  /** m, body frame. */
  readonly x: number;
  readonly y: number;
  /** Which part of the curve, in words: "bass side of the waist". */
  readonly part: string;
}

export interface CurveFairness {
  /** "outline", "hole", "cutaway". */
  readonly name: string;
  readonly faults: readonly CurveFault[];
  /** Bending energy over that of the smoothest curve through the same stations; 1 is the least. Null: not computed. */
  readonly energyRatio: number | null;
}

const roughRatio = 1.5;

/**
 * Whether the curves run fair: no jump of curvature, no waver, and not much more bending than the shape asks for.
 * Anything else is watch, with its places; fairness goes no further.
 */
export function fairness(curves: readonly CurveFairness[]): Verdict {
  const faults = curves.flatMap((c) => c.faults.map((f) => ({ ...f, curve: c.name })));
  const rough = curves.filter((c) => c.energyRatio !== null && c.energyRatio > roughRatio);
  const jumps = faults.filter((f) => f.kind === "jump");
  const wavers = faults.filter((f) => f.kind === "waver");
  const energies = curves.filter((c) => c.energyRatio !== null);
  const places = faults.map(
    (f) =>
      `${f.curve}, ${f.part}: a ${f.kind} ${sayLength(f.x, 0)} from the tail, ${sayLength(Math.abs(f.y), 0)} off the centreline`,
  );
  return {
    id: "fairness",
    title: "The curves run fair",
    level: faults.length > 0 || rough.length > 0 ? "watch" : "good",
    computed: `${sayCount(jumps.length, "jump")} and ${sayCount(wavers.length, "waver")} of curvature in ${sayList(
      curves.map((c) => c.name),
      6,
    )}${
      energies.length > 0
        ? `; bending ${sayList(
            energies.map((c) => `${c.energyRatio!.toFixed(2)} (${c.name})`),
            6,
          )} times the least for the same stations`
        : ""
    }`,
    limit: `watch at any jump or waver, and above ${roughRatio} times the least bending`,
    source: "our own judgement, no source: a hand feels a flat that the eye passes over",
    why:
      faults.length > 0
        ? sayList(places, 4)
        : rough.length > 0
          ? `${sayList(
              rough.map((c) => c.name),
              4,
            )} bends more than its stations ask for`
          : "curvature changes evenly all round",
    whatWouldChange:
      "move or drop the station nearest to the place named; a waver between two stations usually means that they lie too close together or fight each other",
    sureness:
      "geometry as drawn, computed from the curve itself: it carried no spread, and says nothing of how it will be cut",
    figures: { jumps: jumps.length, wavers: wavers.length },
    canHurt: false,
  };
}
