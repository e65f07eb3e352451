import { useEffect, useState } from "react";
import { useDesk } from "../desk/useDesk.ts";
import { Inspector, useFieldFocus } from "../inspector/index.ts";
import { Tabs } from "../kit/index.ts";
import type { StageEntry } from "./stages.ts";
import { verdictsOf } from "./stageVerdicts.ts";
import { Verdicts } from "./Verdicts.tsx";

type Leaf = "verdicts" | "values";

/** Beside the drawing: what was judged, and every value that is decided in this stage. */
export function Side({ stage }: { readonly stage: StageEntry }) {
  const [leaf, setLeaf] = useState<Leaf>(stage.verdicts.length === 0 ? "values" : "verdicts");
  const asked = useFieldFocus((focus) => focus.asked);
  useEffect(() => {
    if (asked > 0) setLeaf("values");
  }, [asked]);
  const open = useDesk(
    (desk) => verdictsOf(stage, desk).filter(({ verdict }) => verdict.level !== "good").length,
  );
  return (
    <aside className="side" aria-label="Values and verdicts">
      <Tabs<Leaf>
        label="Values and verdicts"
        selected={leaf}
        onSelect={setLeaf}
        tabs={[
          {
            id: "verdicts",
            label: open === 0 ? "Verdicts" : `Verdicts, ${open} to look at`,
            content: <Verdicts stage={stage} />,
          },
          { id: "values", label: "Values", content: <Inspector sections={stage.sections} /> },
        ]}
      />
    </aside>
  );
}
