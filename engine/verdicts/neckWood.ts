import { sayLength } from "./say.ts";
import { graver, type Level, type Verdict } from "./verdict.ts";

/** Wood that is left at one place of neck or head, m. */
export interface WoodLeft {
  /** "under the adjustable rod", "under the inlay". */
  readonly where: string;
  readonly left: number;
  /** What is customary there. */
  readonly customary: number;
}

const slack = 5e-5;

/** Wood left under rods and inlay: none is a stop (it breaks through), less than customary is watched. */
export function neckWood(places: readonly WoodLeft[]): Verdict {
  const levelOf = ({ left, customary }: WoodLeft): Level =>
    left <= 0 ? "stop" : left < customary - slack ? "watch" : "good";
  const level = places.reduce<Level>((worst, place) => graver(worst, levelOf(place)), "good");
  const thin = places.filter((place) => levelOf(place) === level);
  const tightest = places.reduce((a, b) => (b.left - b.customary < a.left - a.customary ? b : a));
  const say = ({ where, left }: WoodLeft): string => `${sayLength(left)} ${where}`;
  return {
    id: "neck-wood",
    title: "Wood left in neck and head",
    level,
    computed: (level === "good" ? [tightest] : thin).map(say).join(", "),
    limit: "4 mm or more under a rod, 3 mm or more under an inlay",
    source: "common practice, no source",
    why:
      level === "stop"
        ? "the channel or pocket comes through"
        : level === "watch"
          ? "so little wood may crack or show through when neck or head are shaped, or later where the rod presses"
          : "there is enough to shape neck and head without coming through",
    whatWouldChange: "a deeper neck, a lower rod, a fuller back, a thicker head, a shallower pocket",
    sureness: "geometry as drawn, bars side by side with 3 mm between them; shaping takes what it takes",
    figures: { least: tightest.left },
    canHurt: false,
  };
}
