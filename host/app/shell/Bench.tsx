import { lazy, Suspense, useDeferredValue, useEffect, useState } from "react";
import { useBench } from "../bench/index.ts";
import { Tour } from "../start/Tour.tsx";
import { Corner } from "./Corner.tsx";
import { Announcer, Notices } from "./Notices.tsx";
import { usePlace } from "./place.ts";
import { Rail } from "./Rail.tsx";
import { Side } from "./Side.tsx";
import { StagePage } from "./StagePage.tsx";
import { type StageId, stageOf } from "./stages.ts";
import { TopLine } from "./TopLine.tsx";
import { useKeys } from "./useKeys.ts";

const Conflict = lazy(() => import("./Conflict.tsx").then((m) => ({ default: m.Conflict })));

/** One instrument on the bench: stages at the left, the drawing in the middle, values and verdicts beside it, the title block. */
export function Bench() {
  const place = usePlace();
  const stage = stageOf(place.stage);
  // the drawing follows the address when it can: the rail answers at once
  const shown = useDeferredValue(`${place.stage} ${place.view ?? ""}`).split(" ");
  const shownStage = stageOf(shown[0] as StageId);
  useKeys();
  const name = useBench((bench) => bench.open?.name ?? "");
  useEffect(() => {
    document.title = `${name}: ${stage.name.toLowerCase()}, Fairbout`;
    return () => {
      document.title = "Fairbout";
    };
  }, [name, stage]);
  const conflicting = useBench((bench) => bench.conflict !== null);
  const [alone, setAlone] = useState(false);
  return (
    <div className={`page${alone ? " alone" : ""}`}>
      <a className="skip" href="#work">
        Skip to the drawing
      </a>
      <TopLine alone={alone} onAlone={() => setAlone(!alone)} />
      <Notices />
      <Rail />
      <StagePage key={shownStage.id} stage={shownStage} asked={shown[1] ?? ""} />
      {alone ? null : <Side stage={shownStage} />}
      <Corner stage={stage} />
      {conflicting ? (
        <Suspense>
          <Conflict />
        </Suspense>
      ) : null}
      <Announcer />
      <Tour />
    </div>
  );
}
