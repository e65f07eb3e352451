import { opened } from "#engine/numerics";
import { designString } from "../designString.ts";
import { type FrettingString, withAction } from "./frettingString.ts";

const scaleLength = 0.65;

/** A plain B string of 0.4 mm on a straight board of 20 frets, 2 mm over fret 12, pressed 0.3 mm deep; parts changed. */
export function lightString(change: Partial<FrettingString> = {}, action = 2e-3): FrettingString {
  const fretPlace = Float64Array.from({ length: 21 }, (_, f) => scaleLength * (1 - 2 ** (-f / 12)));
  return withAction(
    {
      string: 2,
      design: opened(designString({ kind: "plain", diameter: 0.4e-3, material: "steel" })),
      openFrequency: 246.94,
      scaleLength,
      fretPlace,
      crownHeight: new Float64Array(fretPlace.length),
      nutHeight: 4e-4,
      saddleHeight: 0,
      behindNut: 0.09,
      behindSaddle: 0.012,
      friction: "full",
      finger: { behind: { kind: "share", share: 0.5, most: 0.012 }, depth: 3e-4 },
      ...change,
    },
    action,
  );
}
