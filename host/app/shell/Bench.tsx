import { useState } from "react";
import { Tour } from "../start/Tour.tsx";
import { Conflict } from "./Conflict.tsx";
import { Corner } from "./Corner.tsx";
import { Announcer, Notices } from "./Notices.tsx";
import { usePlace } from "./place.ts";
import { Rail } from "./Rail.tsx";
import { Side } from "./Side.tsx";
import { StagePage } from "./StagePage.tsx";
import { stageOf } from "./stages.ts";
import { TopLine } from "./TopLine.tsx";
import { useKeys } from "./useKeys.ts";

/** One instrument on the bench: stages at the left, the drawing in the middle, values and verdicts beside it, the title block. */
export function Bench() {
  const stage = stageOf(usePlace().stage);
  useKeys();
  const [alone, setAlone] = useState(false);
  return (
    <div className={`page${alone ? " alone" : ""}`}>
      <a className="skip" href="#work">
        Skip to the drawing
      </a>
      <TopLine alone={alone} onAlone={() => setAlone(!alone)} />
      <Notices />
      <Rail />
      <StagePage key={stage.id} stage={stage} />
      {alone ? null : <Side stage={stage} />}
      <Corner stage={stage} />
      <Conflict />
      <Announcer />
      <Tour />
    </div>
  );
}
