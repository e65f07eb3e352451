import { useSyncExternalStore } from "react";
import { type StageId, stages } from "./stages.ts";

/** Where the page is: written in the address, so that back, forward, reload and a bookmark find it again. */
export interface Place {
  /** Id of the instrument; null: the list. */
  readonly instrument: string | null;
  readonly stage: StageId;
  /** Which picture of the stage; null: its first. */
  readonly view: string | null;
}

export function placeOf(search: string): Place {
  const asked = new URLSearchParams(search);
  const stage = asked.get("stage");
  const instrument = asked.get("instrument");
  return {
    instrument: instrument !== null && /^[0-9a-f-]{36}$/.test(instrument) ? instrument : null,
    stage: stages.find(({ id }) => id === stage)?.id ?? "outline",
    view: asked.get("view"),
  };
}

export function addressOf({ instrument, stage, view }: Place): string {
  if (instrument === null) return "/";
  return `/?${new URLSearchParams({ instrument, stage, ...(view === null ? {} : { view }) })}`;
}

const moved = "fairbout-moved";

/** Goes there; `instead` replaces the place in the browser's history. */
export function goTo(place: Partial<Place>, instead = false): void {
  const here = placeOf(location.search);
  const there = { ...here, ...(place.stage === undefined ? {} : { view: null }), ...place };
  const address = addressOf(there);
  if (address === location.pathname + location.search) return;
  history[instead ? "replaceState" : "pushState"](null, "", address);
  dispatchEvent(new Event(moved));
}

function listen(told: () => void): () => void {
  addEventListener("popstate", told);
  addEventListener(moved, told);
  return () => {
    removeEventListener("popstate", told);
    removeEventListener(moved, told);
  };
}

export function usePlace(): Place {
  return placeOf(useSyncExternalStore(listen, () => location.search));
}
