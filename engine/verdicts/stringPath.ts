import { fromUnit } from "#engine/units";
import { sayAngle } from "./say.ts";
import type { Verdict } from "./verdict.ts";

/** Turns at the nut, rad, string 1 first. */
export interface StringPathFigures {
  readonly sideways: readonly number[];
  readonly down: readonly number[];
  /** False where the posts were taken as is usual. */
  readonly postsStated: boolean;
}

const straight = fromUnit(3, "deg");
const least = fromUnit(8, "deg");
const most = fromUnit(18, "deg");
const slack = fromUnit(0.2, "deg");

/** Path over the nut: straight within 3 degrees sideways, down by 8 to 18 degrees. Outside: watch; a string that does not press on the nut: stop. */
export function stringPath({ sideways, down, postsStated }: StringPathFigures): Verdict {
  const aside = sideways.reduce((most, a) => (Math.abs(a) > Math.abs(most) ? a : most), 0);
  const string = `string ${sideways.indexOf(aside) + 1}`;
  const [flat, steep] = [Math.min(...down), Math.max(...down)];
  const bent = Math.abs(aside) > straight + slack;
  const words = [
    ...(flat <= 0 ? [`string ${down.indexOf(flat) + 1} does not press on the nut`] : []),
    ...(bent
      ? [`${string} rubs on the side of its slot: it binds and pings as it is tuned, and wears the slot`]
      : []),
    ...(flat > 0 && flat < least
      ? ["so flat a string may ring behind the nut and slip out of its slot"]
      : []),
    ...(steep > most ? ["so steep a head kinks the strings and breaks at its neck when it is knocked"] : []),
  ];
  return {
    id: "string-path",
    title: "String path over the nut",
    level: flat <= 0 ? "stop" : words.length > 0 ? "watch" : "good",
    computed: `down by ${sayAngle(flat)} to ${sayAngle(steep)}; sideways by up to ${sayAngle(Math.abs(aside))}${aside === 0 ? "" : ` (${string})`}${postsStated ? "" : ", the posts taken in line with the strings"}`,
    limit: "sideways within 3 degrees, down by 8 to 18",
    source: "common practice, no source",
    why:
      words.length > 0 ? words.join("; ") : "the strings run on nearly straight and bear well in their slots",
    whatWouldChange: "posts nearer the string's own line or further up the head; the head's angle",
    sureness: "geometry as drawn: half a degree for how high the strings leave their posts",
    figures: { sideways: aside, flattest: flat, steepest: steep },
    canHurt: false,
  };
}
