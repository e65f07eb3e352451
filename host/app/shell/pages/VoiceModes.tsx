import { lazy, Suspense, useEffect, useState } from "react";
import { deskDeeds } from "../../desk/deskDeeds.ts";
import { useDesk } from "../../desk/useDesk.ts";
import { ModePicker } from "../../views/ModePicker.tsx";
import { Computed } from "../Computed.tsx";

// drawing in space is heavy: fetched when it is opened
const BodyView = lazy(() =>
  import("../../views/BodyView.tsx").then(({ BodyView: view }) => ({ default: view })),
);

/** The body moving in one of its modes. */
export function VoiceModes() {
  const voice = useDesk((desk) => desk.voice);
  const live = useDesk((desk) => desk.live);
  const sketch = useDesk((desk) => desk.sketch.value);
  const [chosen, setChosen] = useState(0);
  useEffect(() => deskDeeds.watchShapes(), []);
  return (
    <Computed stage={voice} name="The voice" heavy="voice">
      {({ view }) => (
        <>
          {sketch === null ? null : (
            <Suspense fallback={<p role="status">Fetching the drawing in space.</p>}>
              <BodyView view={view} sketch={sketch} mode={chosen} live={live} />
            </Suspense>
          )}
          <ModePicker view={view} live={live} chosen={chosen} onChoose={setChosen} />
        </>
      )}
    </Computed>
  );
}
