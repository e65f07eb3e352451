import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { designString, tension } from "#engine/strings";
import { standardGravity } from "#engine/units";
import { proof } from "#proofs/harness";

const text = readFileSync(new URL("../../examples/cross-braced.fairbout.json", import.meta.url), "utf8");

proof(
  "the light set of example B, from the typed gauges to its pull in kgf",
  {
    source: "COMMON-PRACTICE light steel sets at standard pitch pull 70 to 80 kgf",
    quoted: 75,
    absTol: 5,
    because: "the rule is a range of 70 to 80; gauges, makers and scales differ",
    mustNotice: { gauge: 1.08, pitch: 2 ** (1 / 12), scale: 1.08 },
  },
  (slip) => {
    const checked = checkInstrument(text);
    if (!checked.ok) throw new Error(checked.issues.map((issue) => issue.message).join("\n"));
    return checked.build.strings.reduce((sum, s) => {
      const design = designString(s.construction);
      if (!design.ok) throw new Error(design.detail);
      const linearDensity = design.value.linearDensity * (slip["gauge"] ?? 1) ** 2;
      const pull = tension(
        linearDensity,
        s.scaleLength * (slip["scale"] ?? 1),
        s.frequency * (slip["pitch"] ?? 1),
      );
      return sum + pull / standardGravity;
    }, 0);
  },
);
