import { honestAccuracy } from "#engine/verdicts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import type { LivePicture } from "../desk/deskTypes.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Progress, Table } from "../kit/index.ts";
import { playNote } from "../listen/index.ts";
import { NoteBoardView } from "../views/NoteBoardView.tsx";
import { modeSigma } from "../views/responseScale.ts";
import { Computed } from "./Computed.tsx";
import { capital } from "./say.ts";

/** Hz: what a maker speaks of as main modes lies below. */
const mainTo = 400;

/** The voice beside the drawing: what the hand does to modes and notes while it does it. */
export function LiveVoice() {
  const voice = useDesk((desk) => desk.voice);
  const live = useDesk((desk) => desk.live);
  return (
    <section aria-labelledby="live-voice" className="live-voice">
      <h3 id="live-voice" className="unseen">
        Voice
      </h3>
      <HandWords live={live} />
      <Computed stage={voice} name="The voice" heavy="voice">
        {({ view }) => (
          <>
            <Table
              caption="Main modes"
              columns={["Mode", "Hz", "±, Hz", "Change, Hz", "Q"]}
              words={[0]}
              rows={view.modes.flatMap((mode, i) => {
                if (mode.name === null || mode.frequencyHz > mainTo) return [];
                const now = live?.modes[i];
                return [
                  {
                    key: `${mode.name} ${i}`,
                    cells: [
                      mode.name,
                      (now ?? mode).frequencyHz.toFixed(1),
                      modeSigma(view, i).toFixed(0),
                      now === undefined ? "" : signed(now.frequencyHz - mode.frequencyHz),
                      (now ?? mode).q.toFixed(0),
                    ],
                  },
                ];
              })}
            />
            <p className="note">
              ±: one sigma against the real guitar; a change is about twice as safe. Q is known within a
              factor of {honestAccuracy(view.knowledge).qFactor}.
            </p>
            <NoteBoardView view={view} live={live} onPlay={playNote} />
          </>
        )}
      </Computed>
    </section>
  );
}

/** Whose figures these are, and what the hand must wait for. */
function HandWords({ live }: { readonly live: LivePicture | null }) {
  const hand = useDesk((desk) => desk.hand);
  if (live !== null)
    return (
      <p className="note" role="status">
        {live.exactness === "live"
          ? `Under your hand: reduced model, frequencies within ${(100 * live.error).toFixed(live.error < 0.001 ? 2 : 1)} %.`
          : "Settled: the structure solved exactly; the full voice follows."}
        {live.needsFullSolve.map((words) => ` ${capital(words)}.`).join("")}
      </p>
    );
  if (hand.status === "working")
    return (
      <Progress
        words={`The hand's model: ${hand.words}`}
        fraction={hand.fraction}
        onCancel={() => deskDeeds.cancel("hand")}
      />
    );
  return (
    <p className="note">
      {hand.value === null
        ? "When the hand's model is made, this follows a brace while it is dragged."
        : "This follows a brace, a thickness or the hole while it is dragged."}
    </p>
  );
}

function signed(value: number): string {
  const text = Math.abs(value).toFixed(1);
  return text === "0.0" ? "0.0" : `${value > 0 ? "+" : "−"}${text}`;
}
