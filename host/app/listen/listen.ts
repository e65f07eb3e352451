import { create } from "zustand";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import type { ListenDeeds, Listening } from "./listenTypes.ts";
import { makeListening, silence } from "./makeListening.ts";
import { webLoudspeaker } from "./webLoudspeaker.ts";

/** What is being listened to. Changed by `listenDeeds` alone. */
export const useListening = create<Listening>()(() => silence);

export const listenDeeds: ListenDeeds = makeListening({
  soundOf: (asked) => deskDeeds.soundOf(asked),
  loudspeaker: () => webLoudspeaker(),
  get: useListening.getState,
  set: (change) => useListening.setState(change),
});

// What was rendered is of the document that was in hand; an edit that is settled is not there to be heard.
useDesk.subscribe((now, before) => {
  if (now.text !== before.text) listenDeeds.forget();
  const { tuning } = useListening.getState();
  const tunings = now.strings.value?.tunings;
  if (tuning !== null && tunings?.every(({ name }) => name !== tuning)) listenDeeds.setTuning(null);
  if (now.live === null && before.live !== null && useListening.getState().beside === "live")
    listenDeeds.setBeside(null);
});
