import { create } from "zustand";
import { deskDeeds } from "../desk/deskDeeds.ts";
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
