import type { SlotsReport } from "#engine/pipeline";
import { inUnit } from "#engine/units";
import type { Level, Verdict } from "#engine/verdicts";
import type { Json } from "../bench/index.ts";
import { sayLength, type Units } from "../shell/say.ts";
import { isList, isRecord } from "./mapped.ts";

/** One thing to do, and the one number that belongs to it. */
export interface HandsStep {
  readonly step: string;
  readonly figure: string;
  readonly level?: Level;
}

export type HandsList = "open" | "slots" | "nut" | "braces";

export const handsLists: readonly { readonly id: HandsList; readonly label: string }[] = [
  { id: "open", label: "To settle" },
  { id: "slots", label: "Fret slots" },
  { id: "nut", label: "Nut slots" },
  { id: "braces", label: "Braces" },
];

/** Fret slots by their distance from the nut along each edge, low fret first: marked from one end, nothing adds up. */
export function slotSteps(cuts: SlotsReport["cuts"], units: Units): readonly HandsStep[] {
  if (cuts === null) return [];
  return [
    { step: "Slot depth", figure: sayLength(cuts.slotDepthM, units) },
    ...cuts.frets.flatMap(({ fret, bassEdgeM, trebleEdgeM }) => [
      { step: `Fret ${fret}, bass edge`, figure: sayLength(bassEdgeM, units) },
      { step: `Fret ${fret}, treble edge`, figure: sayLength(trebleEdgeM, units) },
    ]),
  ];
}

/** Middle of each string at the nut, from the board's bass edge, lowest string first. */
export function nutSteps(cuts: SlotsReport["cuts"], units: Units): readonly HandsStep[] {
  return [...(cuts?.stringsAcross ?? [])].reverse().map(({ string, fromBassEdgeAtNutM }) => ({
    step: `String ${string}, from the bass edge`,
    figure: sayLength(fromBassEdgeAtNutM, units),
  }));
}

/** Heights of the braces as they stand in the document, in the maker's own words. */
export function braceSteps(document: { readonly [key: string]: Json } | null): readonly HandsStep[] {
  return (["top", "back"] as const).flatMap((plate) => {
    const part = document?.[plate];
    const braces = isRecord(part) ? part["braces"] : undefined;
    return (isList(braces) ? braces : []).flatMap((brace, i) => {
      if (!isRecord(brace)) return [];
      const height = isRecord(brace["height"]) ? brace["height"]["value"] : brace["height"];
      if (typeof height !== "string") return [];
      const name = typeof brace["name"] === "string" ? brace["name"] : `${plate} brace ${i + 1}`;
      return [{ step: `${name}, height`, figure: height }];
    });
  });
}

type Say = (figure: number, units: Units) => string;

const lengthOf: Say = (metres, units) => sayLength(metres, units, 2);
const hertz: Say = (figure) => `${figure.toFixed(0)} Hz`;
const pull: Say = (figure) => `${inUnit(figure, "kgf").toFixed(0)} kgf`;
const degrees: Say = (figure) => `${inUnit(figure, "deg").toFixed(1)}°`;
const times: Say = (figure) => `${figure.toFixed(1)} ×`;
const count: Say = (figure) => String(figure);

/** Which of a verdict's figures says most, what it is, and how it is read out. A verdict without one number of its own is not in the list. */
const mainFigures: Readonly<Record<string, readonly [figure: string, step: string, say: Say]>> = {
  "bridge-rotation": ["rotation", "The bridge turns", degrees],
  breakage: ["leastMargin", "Strength over stress", times],
  "string-strength": ["weakestMargin", "Weakest string over its pull", times],
  "total-load": ["total", "The strings pull", pull],
  "rod-force": ["force", "The rod pulls", pull],
  "saddle-slot": ["slantedSpan", "Saddle: crowns want", lengthOf],
  "neck-relief": ["slack", "Relief, rod slack", lengthOf],
  "action-rise": ["creepLikely", "Creep lifts action by", lengthOf],
  "wolf-risk": ["wolfNotes", "Wolf notes", count],
  evenness: ["deadNotes", "Dead notes", count],
  buzz: ["leastNormal", "Room over the next crown", lengthOf],
  "main-air-placing": ["frequency", "Main air", hertz],
  "main-top-placing": ["frequency", "Main top", hertz],
  "main-back-placing": ["frequency", "Main back", hertz],
};

/** What is open: verdicts that are not good and not meant so, gravest first. */
export function openSteps(verdicts: readonly Verdict[], units: Units): readonly HandsStep[] {
  return (["stop", "watch"] as const).flatMap((level) =>
    verdicts
      .filter((v) => v.level === level && (v.meant === undefined || v.canHurt))
      .flatMap((v) => {
        const known = mainFigures[v.id];
        const figure = known === undefined ? undefined : v.figures[known[0]];
        if (known === undefined || figure === undefined) return [];
        const [, step, say] = known;
        return [{ step, figure: say(figure, units), level }];
      }),
  );
}
