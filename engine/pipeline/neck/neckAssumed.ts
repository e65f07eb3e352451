import type { AssumedValue, Build } from "#engine/instrument";
import { inUnit } from "#engine/units";
import { neckProfile } from "../structure/neckBack.ts";
import { postWrap } from "./neckHead.ts";
import { rodAction } from "./neckModel.ts";

const commonPractice = "common practice, no source";

/** What the figures of the neck take beyond what the document says. */
export function neckAssumed(build: Build): readonly AssumedValue[] {
  const { neck } = build;
  const { letter, exponent } = neckProfile(neck.profile);
  const back = exponent === 2 ? "half an ellipse" : `|y/a|^p + (z/b)^p = 1 with p = ${exponent.toFixed(2)}`;
  return [
    {
      path: "neck.profile",
      value: `the back of the neck is ${back}`,
      because: letter === null ? `its words name no C, D, U or V; ${commonPractice}` : commonPractice,
    },
    ...neck.rods.flatMap((rod, i): AssumedValue[] =>
      rod.kind === "adjustable"
        ? [
            {
              path: `neck.rods[${i}].height`,
              value:
                rodAction(rod) === "double"
                  ? "two bars, one over the other, that push against each other: it bends the neck both ways"
                  : "one bar: it presses the neck together on its own axis, and bends it one way",
              because: `a rod ${rodAction(rod) === "double" ? "clearly" : "not much"} higher than wide; ${commonPractice}`,
            },
          ]
        : [],
    ),
    {
      path: "neck.head.posts",
      value: `strings leave their posts ${inUnit(postWrap, "mm").toFixed(0)} mm over the head's face, which begins at the board's underside`,
      because: commonPractice,
    },
  ];
}
