import { useShallow } from "zustand/react/shallow";
import { useBench } from "../bench/index.ts";
import { useDesk } from "../desk/useDesk.ts";
import { TitleBlock, VerdictMark } from "../kit/index.ts";
import { usePlan } from "../plan/planState.ts";
import { usePlace } from "./place.ts";
import { sayWhen } from "./say.ts";
import { drawnViews, type StageEntry, stages } from "./stages.ts";
import { overallStanding } from "./stageVerdicts.ts";

const judgement = {
  stop: "do not cut yet",
  watch: "look before you cut",
  good: "nothing against it",
} as const;

/** The title block of the sheet. */
export function Corner({ stage }: { readonly stage: StageEntry }) {
  const name = useBench((bench) => bench.open?.name ?? "");
  const revision = useBench((bench) => bench.open?.revision ?? 0);
  const id = useBench((bench) => bench.open?.id);
  const changed = useBench((bench) => bench.list?.find((card) => card.id === id)?.changed ?? null);
  const hand = useBench((bench) => bench.open?.document["hand"] ?? "right");
  const scale = useScale(stage);
  const { level, all } = useDesk(useShallow(overallStanding));
  return (
    <footer className="corner">
      <TitleBlock
        cells={[
          { term: "Instrument", text: `${name}${hand === "left" ? ", left-handed" : ""}` },
          {
            term: "Sheet",
            text: `${stages.indexOf(stage) + 1} of ${stages.length}, ${stage.name.toLowerCase()}`,
          },
          ...(scale === null ? [] : [{ term: "Scale", text: scale }]),
          { term: "Revision", text: String(revision) },
          ...(changed === null ? [] : [{ term: "Changed", text: sayWhen(changed, new Date()) }]),
          {
            term: "State",
            text:
              level === null ? (
                "nothing judged yet"
              ) : (
                <>
                  <VerdictMark level={level} />{" "}
                  <span className="judgement">
                    {all || level === "stop" ? judgement[level] : "as far as it is computed"}
                  </span>
                </>
              ),
          },
        ]}
      />
    </footer>
  );
}

/** Scale of the drawing on this screen; null where none is shown. */
function useScale(stage: StageEntry): string | null {
  const asked = usePlace().view ?? stage.views[0]?.id;
  const ratio = usePlan(({ view, pxPerMm }) => (view === null ? null : view.scale / pxPerMm));
  if (ratio === null || asked === undefined || !drawnViews.includes(asked)) return null;
  if (Math.abs(ratio - 1) < 1e-6) return "real size";
  return ratio > 1 ? `${ratio.toFixed(1)} : 1` : `1 : ${(1 / ratio).toFixed(1)}`;
}
