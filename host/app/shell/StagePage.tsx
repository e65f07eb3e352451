import { Suspense, useEffect } from "react";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Segments } from "../kit/index.ts";
import { stagePicture } from "./pages/stagePicture.tsx";
import { goTo } from "./place.ts";
import { drawnViews, type StageEntry } from "./stages.ts";

/** The stage in the middle of the page: its heading, which picture of it, and the picture. */
export function StagePage({ stage, asked }: { readonly stage: StageEntry; readonly asked: string }) {
  const view = stage.views.find(({ id }) => id === asked) ?? stage.views[0]!;
  useEffect(() => {
    for (const organ of stage.organs) if (organ === "voice" || organ === "load") deskDeeds.want(organ);
    if (stage.id === "bracing") deskDeeds.want("hand");
  }, [stage]);
  useLoadBeside(stage.id === "bracing" || stage.id === "voice");
  // a drawing takes the room of the words
  const drawn = drawnViews.includes(view.id);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable without a pointer
    <main id="work" className="work" tabIndex={0} aria-label={stage.name}>
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
      <Suspense fallback={<p role="status">Laying it out.</p>}>{stagePicture(stage, view.id)}</Suspense>
    </main>
  );
}

/** ms: by then a model of the hand that is to be made has begun. */
const handBegins = 4000;

/** Where the voice is worked on the load stands beside it: computed after voice and hand's model, which come first. */
function useLoadBeside(wanted: boolean): void {
  const turn = useDesk((desk) => {
    if (!desk.voice.fresh || desk.live !== null) return "later";
    if (desk.hand.status === "waiting" || desk.hand.status === "working") return "later";
    return desk.hand.status === "none" ? "soon" : "now";
  });
  useEffect(() => {
    if (!wanted || turn === "later") return;
    const timer = setTimeout(() => deskDeeds.want("load"), turn === "now" ? 0 : handBegins);
    return () => clearTimeout(timer);
  }, [wanted, turn]);
}
