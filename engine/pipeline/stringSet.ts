import type { Build } from "#engine/instrument";
import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import { breakMargin, designString, inharmonicity, type StringDesign, tension } from "#engine/strings";

/** One string of the instrument brought to pitch on its scale. */
export interface SetString {
  readonly string: number;
  readonly note: string;
  /** Open, Hz. */
  readonly frequency: number;
  readonly scaleLength: number;
  readonly design: StringDesign;
  readonly tension: number;
  /** Breaking force over tension. */
  readonly breakMargin: number;
  readonly inharmonicityB: number;
}

/** The strings at pitch, string 1 first. Fails where a construction makes no string, naming it. */
export function stringSet(build: Build): Outcome<readonly SetString[]> {
  const warnings: Warning[] = [];
  const set: SetString[] = [];
  for (const s of build.strings) {
    const design = designString(s.construction, {
      ...(s.givenLinearDensity === null ? {} : { linearDensity: s.givenLinearDensity }),
      ...(s.givenBreakingForce === null ? {} : { breakingForce: s.givenBreakingForce }),
    });
    if (!design.ok) return failed(design.reason, `string ${s.string}: ${design.detail}`);
    warnings.push(...design.warnings);
    const pull = tension(design.value.linearDensity, s.scaleLength, s.frequency);
    set.push({
      string: s.string,
      note: s.note,
      frequency: s.frequency,
      scaleLength: s.scaleLength,
      design: design.value,
      tension: pull,
      breakMargin: breakMargin(design.value, pull),
      inharmonicityB: inharmonicity(design.value.bendingStiffness, pull, s.scaleLength),
    });
  }
  return done(set, warnings);
}
