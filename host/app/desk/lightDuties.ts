import { done, type Outcome } from "#engine/numerics";
import { type InstrumentSketch, instrumentSketch } from "#engine/pipeline";
import type { RefusedPlace } from "#host/api";
import type { CheckAnswer } from "./deskTypes.ts";
import { textOpener } from "./openText.ts";
import type { reportDuties } from "./reportDuties.ts";
import type { DutyAnswer, DutyInput, DutyKind } from "./wire.ts";

type ReportDuties = ReturnType<typeof reportDuties>;

export type LightDuties = ReturnType<typeof lightDuties>;

/**
 * What is quick: check, geometry, strings, slots, setup, neck. Of a text that may not be so, every stage fails with 'refused'.
 * What the first sight of an instrument does not ask for is fetched when it is.
 */
export function lightDuties() {
  const opener = textOpener();
  const { check, open } = opener;
  let fetched: Promise<ReportDuties> | null = null;
  const later =
    <K extends DutyKind<ReportDuties>>(kind: K) =>
    async (input: DutyInput<ReportDuties, K>): Promise<DutyAnswer<ReportDuties, K>> => {
      fetched ??= import("./reportDuties.ts").then(({ reportDuties }) => reportDuties(opener));
      const duty = (await fetched)[kind] as (input: unknown) => unknown;
      return (await duty(input)) as DutyAnswer<ReportDuties, K>;
    };
  return {
    check: (text: string): CheckAnswer => {
      const checked = check(text);
      if (!checked.ok) return { ok: false, issues: checked.issues };
      const opened = open(text);
      return opened.ok
        ? { ok: true, watch: checked.watch }
        : { ok: false, issues: [{ code: opened.reason, path: "", message: opened.detail }] };
    },
    remarks: (text: string): Outcome<readonly RefusedPlace[]> => {
      const opened = open(text);
      return opened.ok ? done(opened.value.checked.watch) : opened;
    },
    sketch: (text: string): Outcome<InstrumentSketch> => {
      const opened = open(text);
      return opened.ok ? instrumentSketch(opened.value.checked) : opened;
    },
    strings: later("strings"),
    slots: later("slots"),
    setup: later("setup"),
    neck: later("neck"),
    between: later("between"),
    cards: later("cards"),
    hears: later("hears"),
    hear: later("hear"),
    tones: later("tones"),
    sound: later("sound"),
  };
}
