import { create } from "zustand";
import type { Desk } from "./deskTypes.ts";
import { noStage } from "./stage.ts";

/** Nothing on the bench. */
export const emptyDesk: Desk = {
  text: null,
  remarks: noStage,
  sketch: noStage,
  strings: noStage,
  slots: noStage,
  setup: noStage,
  neck: noStage,
  load: noStage,
  voice: noStage,
  beside: noStage,
  hand: noStage,
  movable: [],
  live: null,
};

/** What the engine has computed for the page. Changed by `deskDeeds` alone. */
export const useDesk = create<Desk>()(() => emptyDesk);
