import type { Json } from "../bench/index.ts";
import { isList, isRecord } from "./mapped.ts";

/** Spread from board to board of one species, where none was measured yet: engineering judgement, after the wood table's spreads. */
const boardSpread: readonly (readonly [place: RegExp, spread: string])[] = [
  [/density$/, "10 %"],
  [/(stiffness\w*|shear\w*|loss\w*)$/, "20 %"],
];

/**
 * What another guitar's maker measured is not known of this one: every measured value becomes assumed, woods with the spread from
 * board to board, and names of boards and notes go.
 */
export function othersWood(value: Json, path = ""): Json {
  if (isList(value)) return value.map((own, i) => othersWood(own, `${path}.${i}`));
  if (!isRecord(value)) return value;
  const measured = value["how"] === "measured";
  const entries = Object.entries(value).flatMap(([key, own]): [string, Json][] => {
    // the name of a board stands with a wood, a note on how it was measured with a value
    if ((key === "board" && "species" in value) || (key === "note" && "value" in value)) return [];
    if (measured && key === "how") return [[key, "assumed"]];
    const spread =
      measured && key === "spread" ? boardSpread.find(([place]) => place.test(path))?.[1] : undefined;
    return [[key, spread ?? othersWood(own, `${path}.${key}`)]];
  });
  return Object.fromEntries(entries);
}
