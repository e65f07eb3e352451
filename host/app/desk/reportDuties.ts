import { setupCards, slotCards } from "#engine/drawings";
import { done, type Outcome } from "#engine/numerics";
import {
  type NeckReport,
  neckReport,
  type SetupReport,
  type SlotsReport,
  type StringsReport,
  setupCardsView,
  setupReport,
  slotCardsView,
  slotsReport,
  stringsReport,
} from "#engine/pipeline";
import { type Between, changeBetween } from "./changeBetween.ts";
import type { OpenedText, TextOpener } from "./openText.ts";
import { soundDuties } from "./soundDuties.ts";

/** What the light worker does once an instrument has been seen: strings, slots, setup, neck, cards, sound. */
export function reportDuties({ open }: TextOpener) {
  const of = <T>(text: string, compute: (opened: OpenedText) => Outcome<T>): Outcome<T> => {
    const opened = open(text);
    return opened.ok ? compute(opened.value) : opened;
  };
  return {
    ...soundDuties(),
    strings: (text: string): Outcome<StringsReport> =>
      of(text, ({ build, strings }) => stringsReport(build, strings)),
    slots: (text: string): Outcome<SlotsReport> =>
      of(text, ({ build, geometry, strings }) => done(slotsReport(build, geometry, strings))),
    setup: (text: string): Outcome<SetupReport> =>
      of(text, ({ build, geometry, strings }) => setupReport(build, geometry, strings)),
    neck: (text: string): Outcome<NeckReport> =>
      of(text, ({ build, geometry, strings }) => neckReport(build, geometry, strings)),
    /** What turns the instrument of one text into that of another, if live values are all that differs; null: more does, or one may not be so. */
    between: ({ from, to }: { readonly from: string; readonly to: string }): Between | null => {
      const [before, after] = [open(from), open(to)];
      return before.ok && after.ok ? changeBetween(before.value, after.value) : null;
    },
    cards: ({ text, kind }: { readonly text: string; readonly kind: "slots" | "setup" }): Outcome<string> =>
      of(text, ({ build, geometry, strings }) => {
        if (kind === "slots") {
          const view = slotCardsView(build, geometry, slotsReport(build, geometry, strings));
          return view.ok ? done(slotCards(view.value)) : view;
        }
        const report = setupReport(build, geometry, strings);
        return report.ok ? done(setupCards(setupCardsView(build, report.value))) : report;
      }),
  };
}
