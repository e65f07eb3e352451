import { stringStrength } from "#engine/verdicts";
import { proof } from "#proofs/harness";

/** Margin at which the verdict leaves a level, found by halving; `load` multiplies the tension of the string. */
function margin(level: "stop" | "watch", load: number): number {
  let [low, high] = [1, 2];
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    const found = stringStrength([
      { string: 1, note: "E4", tension: 100 * load, breakingForce: 100 * middle },
    ]).level;
    const graver = level === "stop" ? found === "stop" : found !== "good";
    if (graver) low = middle;
    else high = middle;
  }
  return low;
}

proof(
  "a string must outlast a semitone sharp, and a bend of a whole tone to be good",
  {
    source: "ISO16",
    // A fixed length and mass: T goes with f^2, and a semitone is 2^(1/12).
    quoted: [1.0594630943592953 ** 2, 1.122462048309373 ** 2],
    relTol: 1e-9,
    because: "closed form: the square of the tempered semitone and tone",
    mustNotice: { load: 1.001 },
  },
  (slip) => [margin("stop", slip["load"] ?? 1), margin("watch", slip["load"] ?? 1)],
);
