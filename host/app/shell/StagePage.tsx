import { useEffect } from "react";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Segments } from "../kit/index.ts";
import { stagePicture } from "./pages/stagePicture.tsx";
import { goTo } from "./place.ts";
import type { StageEntry } from "./stages.ts";

/** The stage in the middle of the page: its heading, which picture of it, and the picture. */
export function StagePage({ stage, asked }: { readonly stage: StageEntry; readonly asked: string }) {
  const view = stage.views.find(({ id }) => id === asked) ?? stage.views[0]!;
  useEffect(() => {
    for (const organ of stage.organs) if (organ === "voice" || organ === "load") deskDeeds.want(organ);
  }, [stage]);
  // where the voice is worked on, the load stands beside it: computed after, the voice comes first
  const voiced = useDesk((desk) => desk.voice.fresh);
  useEffect(() => {
    if (voiced && (stage.id === "bracing" || stage.id === "voice")) deskDeeds.want("load");
  }, [stage, voiced]);
  // a drawing takes the room of the words
  const drawn = ["plan", "side", "section"].includes(view.id);
  return (
    <main id="work" className="work" tabIndex={-1}>
      <div className="work-head">
        <h2>{stage.name}</h2>
        {stage.views.length < 2 ? null : (
          <Segments
            label="What is shown"
            value={view.id}
            options={stage.views.map(({ id, name }) => ({ id, label: name }))}
            onChange={(id) => goTo({ view: id })}
          />
        )}
        {drawn ? null : <p className="task">{stage.task}</p>}
      </div>
      {stagePicture(stage, view.id)}
    </main>
  );
}
