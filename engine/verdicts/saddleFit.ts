import { sayLength } from "./say.ts";
import { graver, type Level, type Verdict } from "./verdict.ts";

/** Heights at the bridge, m. */
export interface SaddleSeat {
  /** Strings over the top at the saddle, lowest and highest of the set. */
  readonly stringHeight: readonly [least: number, most: number];
  /** Bridge's upper face over the top, at the saddle. */
  readonly bridgeHeight: number;
  /** Depth of the saddle's slot in the bridge. */
  readonly slotDepth: number;
}

const heightLimits = [0.011, 0.014] as const;
const showLimits = [0.003, 0.005] as const;
// The height of a saddle is set to about this; a figure on the limit is not past it.
const slack = 5e-5;

/**
 * String height over the top at the bridge (11 to 14 mm) and how far the saddle stands out of its slot (3 to 5 mm, and
 * no more than sits in it): common practice. Outside the customary range watch; a saddle that does not stand out of the
 * bridge, or stands out further than it sits in, does not fit: stop.
 */
export function saddleFit(seat: SaddleSeat): Verdict {
  const shows = seat.stringHeight.map((h) => h - seat.bridgeHeight) as [number, number];
  const faults: { level: Level; words: string }[] = [];
  const note = (level: Level, words: string) => faults.push({ level, words });
  if (shows[0] <= slack) note("stop", "a string would lie on the bridge instead of the saddle");
  else if (shows[0] < showLimits[0] - slack)
    note("watch", "the saddle shows so little that the strings hardly break over it");
  if (shows[1] > seat.slotDepth + slack)
    note("stop", "more of the saddle shows than sits in its slot: it tips and splits the bridge");
  else if (shows[1] > showLimits[1] + slack)
    note("watch", "a tall saddle leans on the front wall of its slot");
  if (seat.stringHeight[0] < heightLimits[0] - slack)
    note("watch", "strings low over the top drive it less, and the pick hand touches it");
  if (seat.stringHeight[1] > heightLimits[1] + slack)
    note("watch", "strings high over the top roll the bridge more: the moment goes with the height");
  const level = faults.reduce<Level>((worst, f) => graver(worst, f.level), "good");
  const range = ([a, b]: readonly [number, number]) =>
    sayLength(a) === sayLength(b) ? sayLength(a) : `${sayLength(a)} to ${sayLength(b)}`;
  return {
    id: "saddle-fit",
    title: "String height over the top, and the saddle's seat",
    level,
    computed: `strings ${range(seat.stringHeight)} over the top; the saddle shows ${range(shows)} and sits ${sayLength(seat.slotDepth)} deep`,
    limit: "strings 11 to 14 mm over the top; the saddle shows 3 to 5 mm, and no more than sits in its slot",
    source: "common practice, no source",
    why:
      level === "good"
        ? "height, show and seat are in the customary range"
        : [...faults]
            .sort((a, b) => Number(b.level === "stop") - Number(a.level === "stop"))
            .map((f) => f.words)
            .join("; "),
    whatWouldChange:
      "neck pitch moves the string height, bridge thickness moves the show, a deeper slot or a thicker bridge gives the saddle more seat",
    sureness:
      "geometry as drawn; it carried no spread for the top's own movement under load and through the seasons",
    figures: {
      leastStringHeight: seat.stringHeight[0],
      mostStringHeight: seat.stringHeight[1],
      leastShow: shows[0],
      mostShow: shows[1],
      slotDepth: seat.slotDepth,
    },
    canHurt: false,
  };
}
