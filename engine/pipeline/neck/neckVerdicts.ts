import type { Build } from "#engine/instrument";
import { neckRelief, neckWood, rodForce, stringPath, type Verdict, type WoodLeft } from "#engine/verdicts";
import type { FirstWeeks } from "./firstWeeks.ts";
import type { headStrings } from "./neckHead.ts";
import { type NeckModel, rodStrength } from "./neckModel.ts";
import type { NeckReliefs } from "./neckRelief.ts";
import type { woodAtRods } from "./neckWoodLeft.ts";

/** What the report and its verdicts are drawn from, SI. */
export interface NeckParts {
  readonly model: NeckModel;
  readonly reliefs: NeckReliefs;
  readonly rods: ReturnType<typeof woodAtRods>;
  readonly head: ReturnType<typeof headStrings>;
  readonly weeks: FirstWeeks;
}

const underRod = 4e-3;
const underInlay = 3e-3;

/** Unmarked. */
export function neckVerdicts(build: Build, { reliefs, rods, head }: NeckParts): readonly Verdict[] {
  const { neck } = build;
  const { slack, stated, wanted, tightest, loosest } = reliefs;
  const adjustable = neck.rods.filter((rod) => rod.kind === "adjustable");
  const force = stated?.force ?? wanted?.force ?? null;
  const wood: WoodLeft[] = [
    ...rods.map(({ kind, under }) => ({
      where: `under the ${kind} ${kind === "adjustable" ? "rod" : "bar"}`,
      left: under,
      customary: underRod,
    })),
    ...(neck.head.inlayDepth === null
      ? []
      : [
          {
            where: "under the inlay",
            left: neck.head.thickness - neck.head.inlayDepth,
            customary: underInlay,
          },
        ]),
  ];
  return [
    neckRelief({
      wanted: neck.relief,
      slack: slack.relief,
      least: tightest.relief,
      most: loosest.relief,
      stated,
      force: wanted?.force ?? null,
      adjustable: adjustable.length > 0,
    }),
    ...(adjustable.length === 0 || force === null
      ? []
      : [
          rodForce({
            force,
            stated: stated !== null,
            strength: Math.min(...adjustable.map(rodStrength)),
          }),
        ]),
    ...(wood.length === 0 ? [] : [neckWood(wood)]),
    stringPath({
      sideways: head.map((s) => s.sideways),
      down: head.map((s) => s.breakAngle),
      postsStated: neck.head.postsStated,
    }),
  ];
}
