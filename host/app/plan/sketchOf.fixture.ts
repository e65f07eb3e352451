import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { type InstrumentSketch, instrumentSketch } from "#engine/pipeline";

/** The sketch of an example, right-handed or turned into its left-handed twin. */
export function sketchOf(example: string, hand: "right" | "left" = "right"): InstrumentSketch {
  const text = readFileSync(`examples/${example}.fairbout.json`, "utf8").replace(
    '"hand": "right"',
    `"hand": "${hand}"`,
  );
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const sketch = instrumentSketch(checked);
  if (!sketch.ok) throw new Error(sketch.detail);
  return sketch.value;
}
