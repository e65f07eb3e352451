import { frequencySigma, type Knowledge } from "./accuracy.ts";
import { centsBetween, sayFrequency, sayPitch } from "./say.ts";
import { missOf, sayTarget, type TargetRange, type Verdict } from "./verdict.ts";

export interface PlayedNote {
  readonly note: string;
  /** Hz */
  readonly frequency: number;
  /** An open string, or a note of the scale or chords that the brief asks for. */
  readonly role: "open string" | "scale";
}

export interface MainMode {
  readonly name: "main air" | "main top" | "main back";
  /** Hz, coupled. */
  readonly frequency: number;
  readonly knowledge: Knowledge;
  readonly played: readonly PlayedNote[];
  /** Frequency of A4 for the names of notes, Hz; 440 (ISO 16) if not given. */
  readonly a4?: number;
  /** Hz; null or absent if the maker did not say. */
  readonly target?: TargetRange | null;
}

/** Cents within which a mode is said to sit on a note: a quarter tone for an open string, half that for a scale note. */
const nearCents = { "open string": 50, scale: 25 } as const;

const levers: Readonly<Record<MainMode["name"], string>> = {
  "main air":
    "the size of the hole (larger raises it), the volume of the body (deeper lowers it), a looser top (lowers it)",
  "main top":
    "brace height and top thickness (stiffer raises it), bridge mass (heavier lowers it), width of the lower bout (wider lowers it)",
  "main back": "back braces and thickness (stiffer raises it), a lighter back (raises it)",
};

/**
 * Where a main mode sits among the notes that are played, and against the maker's target. Within about a quarter tone
 * of an open string (50 cents) or within 25 cents of a note of the scale: watch, because that note will jump out and
 * die early. Outside the target: watch. Never further than watch.
 */
export function mainModePlacing(mode: MainMode): Verdict {
  const ranked = mode.played
    .map((p) => ({ ...p, off: centsBetween(p.frequency, mode.frequency) }))
    .sort((a, b) => Math.abs(a.off) - Math.abs(b.off));
  const struck = ranked.filter((p) => Math.abs(p.off) <= nearCents[p.role]);
  const nearest = ranked[0];
  const target = mode.target ?? null;
  const miss = target === null ? 0 : missOf(mode.frequency, target);
  const sigma = frequencySigma(mode.name, mode.knowledge);
  const reasons = [
    ...struck
      .slice(0, 2)
      .map((p) => `it sits ${sayOff(p.off)} ${p.note} (${p.role}): that note will be loud and short`),
    ...(miss === 0
      ? []
      : [`it lies ${sayFrequency(Math.abs(miss))} ${miss > 0 ? "above" : "below"} the range aimed at`]),
  ];
  const aim =
    target === null ? "; no target given" : `, or outside the target: ${sayTarget(target, sayFrequency)}`;
  return {
    id: `${mode.name.replace(" ", "-")}-placing`,
    title: `Where the ${mode.name} mode sits`,
    level: reasons.length > 0 ? "watch" : "good",
    computed: `${sayPitch(mode.frequency, mode.a4)}${nearest === undefined ? "" : `, ${sayOff(nearest.off)} ${nearest.note} (${nearest.role}), the nearest played note`}`,
    limit: `watch within ${nearCents["open string"]} cents of an open string or ${nearCents.scale} cents of a note of the scale${aim}`,
    source: "common practice, no source",
    why:
      reasons.length > 0
        ? reasons.join("; ")
        : "no played note falls on it, so its strength is shared between neighbours",
    whatWouldChange: levers[mode.name],
    sureness: `two times in three within ${(sigma * 100).toFixed(1)} % (${mode.knowledge}): ${sayFrequency(mode.frequency * (1 - sigma))} to ${sayFrequency(mode.frequency * (1 + sigma))}${widerThanAStep(sigma)}`,
    figures: {
      frequency: mode.frequency,
      oneSigma: mode.frequency * sigma,
      ...(nearest === undefined ? {} : { nearestPlayed: nearest.frequency, offCents: nearest.off }),
    },
    canHurt: false,
  };
}

function sayOff(cents: number): string {
  const whole = Math.round(Math.abs(cents));
  return whole === 0 ? "on" : `${whole} cents ${cents > 0 ? "above" : "below"}`;
}

/** Said when the range is wider than the step between notes, because then the placing itself is not yet known. */
function widerThanAStep(sigma: number): string {
  return centsBetween(1, 1 + sigma) > 50
    ? "; that is wider than the step between two notes, so which note it falls on is not yet known: knocking on the finished box settles it"
    : "";
}
