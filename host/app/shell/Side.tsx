import { lazy, Suspense, useEffect, useState } from "react";
import { useDesk } from "../desk/useDesk.ts";
import { Inspector, useFieldFocus } from "../inspector/index.ts";
import { Tabs } from "../kit/index.ts";
import type { StageEntry } from "./stages.ts";
import { verdictsOf } from "./stageVerdicts.ts";
import { Verdicts } from "./Verdicts.tsx";

const LiveVoice = lazy(() => import("./LiveVoice.tsx").then((m) => ({ default: m.LiveVoice })));

type Leaf = "verdicts" | "values" | "voice";

/** Beside the drawing: what was judged, every value that is decided in this stage, and the voice where the hand changes it. */
export function Side({ stage }: { readonly stage: StageEntry }) {
  const [chosen, setLeaf] = useState<Leaf>("verdicts");
  const voiced = stage.id === "bracing" || stage.id === "outline";
  const asked = useFieldFocus((focus) => focus.asked);
  useEffect(() => {
    if (asked > 0) setLeaf("values");
  }, [asked]);
  // the hand has taken hold of something: its voice is looked at now
  const held = useDesk((desk) => desk.live !== null);
  useEffect(() => {
    if (held && voiced) setLeaf((leaf) => (leaf === "verdicts" ? "voice" : leaf));
  }, [held, voiced]);
  const open = useDesk(
    (desk) => verdictsOf(stage, desk).filter(({ verdict }) => verdict.level !== "good").length,
  );
  const leaf = chosen === "voice" && !voiced ? "verdicts" : chosen;
  return (
    <aside className="side" aria-label="Values and verdicts">
      <Tabs<Leaf>
        label="Values and verdicts"
        selected={leaf === "verdicts" && stage.verdicts.length === 0 ? "values" : leaf}
        onSelect={setLeaf}
        tabs={[
          ...(stage.verdicts.length === 0
            ? []
            : [
                {
                  id: "verdicts" as const,
                  label: open === 0 ? "Verdicts" : `Verdicts, ${open} to look at`,
                  content: <Verdicts stage={stage} />,
                },
              ]),
          { id: "values", label: "Values", content: <Inspector sections={stage.sections} /> },
          ...(voiced
            ? [
                {
                  id: "voice" as const,
                  label: "Voice",
                  content: (
                    <Suspense fallback={<p role="status">Laying it out.</p>}>
                      <LiveVoice />
                    </Suspense>
                  ),
                },
              ]
            : []),
        ]}
      />
    </aside>
  );
}
