import type { Knowledge } from "./accuracy.ts";
import { honestAccuracy } from "./accuracy.ts";
import { centsBetween, sayFrequency, sayPitch } from "./say.ts";
import type { Verdict } from "./verdict.ts";

export interface PlayedNote {
  readonly note: string;
  /** Hz */
  readonly frequency: number;
  /** An open string, or a note of the scale or chords that the brief asks for. */
  readonly role: "open string" | "scale";
}

export interface MainMode {
  readonly name: "main air" | "main top";
  /** Hz, coupled. */
  readonly frequency: number;
  readonly knowledge: Knowledge;
  readonly played: readonly PlayedNote[];
  /** What the maker aims at, and how far off he accepts (cents; a quarter tone if not said). */
  readonly target?: { readonly frequency: number; readonly withinCents?: number };
}

/** Cents within which a main mode is said to sit on a note: a quarter tone for an open string, half that for a scale. */
const nearCents = { "open string": 50, scale: 25 } as const;

/**
 * Where a main mode sits among the notes that are played, and against the maker's target. Within about a quarter tone
 * of an open string (50 cents) or within 25 cents of a note of the scale: watch, because that note will jump out and
 * die early. Further than the accepted cents from the target: watch. Never further than watch.
 */
export function mainModePlacing(mode: MainMode): Verdict {
  const ranked = mode.played
    .map((p) => ({ ...p, off: centsBetween(p.frequency, mode.frequency) }))
    .sort((a, b) => Math.abs(a.off) - Math.abs(b.off));
  const struck = ranked.filter((p) => Math.abs(p.off) < nearCents[p.role]);
  const nearest = ranked[0];
  const within = mode.target?.withinCents ?? 50;
  const miss = mode.target === undefined ? null : centsBetween(mode.target.frequency, mode.frequency);
  const missed = miss !== null && Math.abs(miss) > within;
  const accuracy = honestAccuracy(mode.knowledge);
  const sigma = mode.name === "main air" ? accuracy.mainAir : accuracy.mainTop;
  const reasons = [
    ...struck
      .slice(0, 2)
      .map((p) => `it sits ${sayOff(p.off)} ${p.note} (${p.role}): that note will be loud and short`),
    ...(missed ? [`it lies ${sayOff(miss)} the target of ${sayPitch(mode.target!.frequency)}`] : []),
  ];
  return {
    id: mode.name === "main air" ? "main-air-placing" : "main-top-placing",
    title: `Where the ${mode.name} mode sits`,
    level: reasons.length > 0 ? "watch" : "good",
    computed: `${sayPitch(mode.frequency)}${nearest === undefined ? "" : `, ${sayOff(nearest.off)} ${nearest.note} (${nearest.role}), the nearest played note`}`,
    limit: `watch within ${nearCents["open string"]} cents of an open string or ${nearCents.scale} cents of a note of the scale${mode.target === undefined ? "; no target given" : `, or more than ${within} cents off the target of ${sayPitch(mode.target.frequency)}`}`,
    source: "common practice, no source",
    why:
      reasons.length > 0
        ? reasons.join("; ")
        : "no played note falls on it, so its strength is shared between neighbours",
    whatWouldChange:
      mode.name === "main air"
        ? "the size of the hole (larger raises it), the volume of the body (deeper lowers it), a looser top (lowers it)"
        : "brace height and top thickness (stiffer raises it), bridge mass (heavier lowers it), width of the lower bout (wider lowers it)",
    sureness: `one sigma is ${(sigma * 100).toFixed(1)} % with the wood known as "${mode.knowledge}": ${sayFrequency(mode.frequency * (1 - sigma))} to ${sayFrequency(mode.frequency * (1 + sigma))}${noteWidth(sigma)}`,
    figures: {
      frequency: mode.frequency,
      oneSigma: mode.frequency * sigma,
      ...(nearest === undefined ? {} : { nearestPlayed: nearest.frequency, offCents: nearest.off }),
      ...(mode.target === undefined ? {} : { target: mode.target.frequency }),
    },
    canHurt: false,
  };
}

function sayOff(cents: number): string {
  const whole = Math.round(Math.abs(cents));
  return whole === 0 ? "on" : `${whole} cents ${cents > 0 ? "above" : "below"}`;
}

/** Says so when the range is wider than the spacing of the notes, because then the placing itself is not yet known. */
function noteWidth(sigma: number): string {
  const halfWidth = centsBetween(1, 1 + sigma);
  return halfWidth > 50
    ? `, wider than the step between two notes: which note it falls on is not yet known, and a knock on the finished box would settle it`
    : "";
}
