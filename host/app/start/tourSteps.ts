import { create } from "zustand";
import { goTo, type Place } from "../shell/place.ts";

/** A stop of the tour: where the page is, which part of it is meant, and what there is to know. */
export interface TourStep {
  readonly title: string;
  readonly words: string;
  /** Selector of the part that is framed. */
  readonly at: string;
  readonly place: Pick<Place, "stage" | "view">;
}

export const tourSteps: readonly TourStep[] = [
  {
    title: "The job, from brief to setup",
    words:
      "Every stage of the work, in order. The mark beside it is the worst thing found there: a ring is good, a triangle wants a look, a filled eight-sided plate says do not cut yet.",
    at: ".rail",
    place: { stage: "outline", view: null },
  },
  {
    title: "The drawing is the guitar",
    words:
      "It is to scale, and you work on it: pull a weight and the outline stays fair like a batten. Drag the hole, turn the wheel to come nearer. Undo takes anything back, also tomorrow.",
    at: ".work",
    place: { stage: "outline", view: "plan" },
  },
  {
    title: "Every value, as you type it",
    words:
      "Under Values stands all that is decided here. Type 5/16 in or 2.8 mm: what you typed is kept. Say of each value whether you measured it or assume it; the ranges follow.",
    at: ".side",
    place: { stage: "outline", view: "plan" },
  },
  {
    title: "A brace under the hand",
    words:
      "Drag a brace, or its height in the section: body modes, note board and string load follow while you drag, and settle exactly when you let go.",
    at: ".work",
    place: { stage: "bracing", view: "plan" },
  },
  {
    title: "Hear it",
    words:
      "The note board shows every string at every fret. Strike a note to hear the computed body; under Listen, two designs play in step at one gain. Listen for the difference.",
    at: ".work",
    place: { stage: "voice", view: "board" },
  },
  {
    title: "Will it hold",
    words:
      "Load says what 70 kg of string do for decades. Every verdict tells why, where its limit comes from, and what would change it. If you mean it so, mark it and say the reason.",
    at: ".side",
    place: { stage: "load", view: null },
  },
];

/** Which stop the tour is at; null: there is none. */
export const useTour = create<{ readonly step: number | null }>()(() => ({ step: null }));

export function startTour(): void {
  goToStep(0);
}

export function goToStep(step: number): void {
  const stop = tourSteps[step];
  if (stop === undefined) {
    leaveTour();
    return;
  }
  goTo(stop.place);
  useTour.setState({ step });
}

export function leaveTour(): void {
  useTour.setState({ step: null });
}
