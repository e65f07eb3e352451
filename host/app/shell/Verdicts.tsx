import { useShallow } from "zustand/react/shallow";
import { useDesk } from "../desk/useDesk.ts";
import type { StageEntry } from "./stages.ts";
import { verdictsOf } from "./stageVerdicts.ts";
import { VerdictEntry } from "./VerdictEntry.tsx";

/** What the stage's results were held against, gravest first. */
export function Verdicts({ stage }: { readonly stage: StageEntry }) {
  const held = useDesk(
    useShallow((desk) => verdictsOf(stage, desk).flatMap(({ verdict, fresh }) => [verdict, fresh] as const)),
  );
  if (held.length === 0)
    return <p className="soft">No verdict yet: what this stage judges is not computed.</p>;
  const verdicts = [];
  for (let i = 0; i < held.length; i += 2) {
    const verdict = held[i];
    if (typeof verdict === "object") verdicts.push({ verdict, fresh: held[i + 1] === true });
  }
  return (
    <section aria-labelledby="verdicts">
      <h3 id="verdicts" className="unseen">
        Verdicts
      </h3>
      {verdicts.map(({ verdict, fresh }) => (
        <VerdictEntry key={verdict.id} verdict={verdict} fresh={fresh} />
      ))}
    </section>
  );
}
