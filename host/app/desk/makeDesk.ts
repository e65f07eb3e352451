import type { Desk, DeskDeeds, DeskStore, NoteAsked, PieceAsked, Stage } from "./deskTypes.ts";
import { makeHand } from "./hand.ts";
import type { HandDuties } from "./handDuties.ts";
import type { HeavyDuties } from "./heavyDuties.ts";
import { heavyStages } from "./heavyStages.ts";
import { latestOnly } from "./latestOnly.ts";
import type { LightDuties } from "./lightDuties.ts";
import type { Line } from "./line.ts";
import { newestWaits } from "./newestWaits.ts";
import { settled, settledOutcome } from "./settled.ts";
import { noStage, outcomeTold, stale, waiting, working } from "./stage.ts";
import type { Duties } from "./wire.ts";

/** Whom the desk can hire. */
export interface Hires {
  light(): Line<LightDuties>;
  heavy(): Line<HeavyDuties>;
  hand(): Line<HandDuties>;
}

/** Stages that are computed as soon as the document changes, in this order. */
const lightStages = ["remarks", "sketch", "strings", "slots", "setup", "neck"] as const;
/** All that belongs to the document in hand. */
const ownStages = [...lightStages, "voice", "load"] as const;

/** The desk: keeps its stages fresh for the document in hand, with workers that it hires when they are first needed. */
export function makeDesk(hires: Hires, store: DeskStore): DeskDeeds {
  const light = standing(hires.light);
  const heavy = standing(hires.heavy);
  const wanted = new Set<"voice" | "load">();
  let besideText: string | null = null;
  /** Whether the first plan can be drawn: until then the heavy worker would only be in its way. */
  let drawn = false;

  const follower = latestOnly<string>(async (text, superseded) => {
    for (const key of lightStages) {
      if (superseded()) return;
      store.set({ [key]: working(store.get()[key] as Stage<never>, 0, "") });
      const outcome = await settledOutcome<unknown>(light().ask(key, text).answer as Promise<never>);
      if (superseded()) return;
      store.set({ [key]: outcomeTold(store.get()[key] as Stage<unknown>, outcome) });
      if (key === "sketch") beginHeavy();
    }
  });
  const stages = heavyStages(
    heavy,
    store,
    (stage) => (stage === "beside" ? besideText : store.get().text),
    (text, computed) => hand.voiceReady(text, computed),
  );
  const hand = makeHand({
    hire: hires.hand,
    store,
    basis: stages.basis,
    callOffBasis: stages.callOffBasis,
    between: async (from, to) => {
      const answer = await settled(light().ask("between", { from, to }).answer);
      return answer.ok ? answer.value : null;
    },
  });
  const sketchOf = newestWaits(async (text: string) => {
    const outcome = await settledOutcome(light().ask("sketch", text).answer);
    return outcome.ok ? outcome.value : null;
  });

  const begin = (stage: "voice" | "load"): void => {
    if (drawn) stages.begin(stage);
    else if (store.get().text !== null) store.set({ [stage]: waiting(store.get()[stage] as Stage<never>) });
  };
  const beginHeavy = (): void => {
    if (drawn) return;
    drawn = true;
    // who looks will soon compute
    heavy();
    for (const stage of wanted) stages.begin(stage);
  };

  /** The text whose voice shall sound, once its body is where notes are rendered; null: it is not known. */
  const soundingText = async ({ of }: NoteAsked | PieceAsked): Promise<string | null> => {
    const text = of === "beside" ? besideText : store.get().text;
    if (text === null || (await light().ask("hears", text).answer)) return text;
    const { port1, port2 } = new MessageChannel();
    const heard = light().ask("hear", { text, port: port2 }, { transfer: [port2] });
    const sent = await heavy().ask("soundTo", { text, port: port1 }, { transfer: [port1] }).answer;
    return sent && (await heard.answer) ? text : null;
  };

  return {
    prepare: () => void light(),
    check: async (text) => {
      const answer = await settled(light().ask("check", text).answer);
      if (answer.ok) return answer.value;
      return { ok: false, issues: [{ code: answer.reason, path: "", message: answer.detail }] };
    },
    sketchOf,
    follow: (text) => {
      const before = store.get();
      if (text === before.text) return;
      stages.callOff("voice", true);
      stages.callOff("load", true);
      if (text === null) {
        follower.drop();
        hand.dismiss();
        store.set({ text, ...everyOwn(() => noStage) });
        return;
      }
      store.set({ text, ...everyOwn((key) => stale(store.get()[key] as Stage<unknown>)) });
      follower.give(text);
      hand.textChanged(text);
      for (const stage of wanted) begin(stage);
    },
    want: (stage) => {
      if (stage === "hand") {
        hand.want();
        return;
      }
      wanted.add(stage);
      const { status, fresh } = store.get()[stage];
      if (!fresh && status !== "waiting" && status !== "working") begin(stage);
    },
    cancel: (stage) => {
      if (stage === "hand") {
        hand.cancel();
        return;
      }
      if (stage !== "beside") wanted.delete(stage);
      stages.callOff(stage, true);
    },
    hold: hand.hold,
    drag: hand.drag,
    release: hand.release,
    watchShapes: hand.watchShapes,
    letBe: hand.letBe,
    compare: (text) => {
      if (text === besideText) return;
      stages.callOff("beside", false);
      besideText = text;
      store.set({ beside: text === null ? noStage : stale(store.get().beside) });
      if (text !== null) stages.begin("beside");
    },
    voiceOf: stages.voiceOf,
    levers: hand.levers,
    tonesOf: async (asked) => {
      const tones = await settled(
        asked.of === "live"
          ? hand.tones(asked)
          : soundingText(asked).then((text) =>
              text === null ? null : light().ask("tones", { text, asked }).answer,
            ),
      );
      return tones.ok ? tones.value : null;
    },
    soundOf: async (asked) => {
      const sound = await settled(
        asked.of === "live"
          ? hand.sound(asked)
          : soundingText(asked).then((text) =>
              text === null ? null : light().ask("sound", { text, asked }).answer,
            ),
      );
      return sound.ok ? sound.value : null;
    },
    sheet: async (kind) => {
      const { text } = store.get();
      if (text === null) return null;
      if (kind === "slots" || kind === "setup") {
        const cards = await settledOutcome(light().ask("cards", { text, kind }).answer);
        return cards.ok ? cards.value : null;
      }
      const report = await settled(heavy().ask("sheet", { text, kind }).answer);
      return report.ok ? report.value : null;
    },
  };
}

/** A worker hired when it is first needed, and another when it has broken down. */
function standing<D extends Duties>(hire: () => Line<D>): () => Line<D> {
  let hired: Line<D> | null = null;
  return () => {
    if (hired === null || hired.ended) hired = hire();
    return hired;
  };
}

function everyOwn(stageOf: (key: (typeof ownStages)[number]) => Stage<unknown>): Partial<Desk> {
  return Object.fromEntries(ownStages.map((key) => [key, stageOf(key)])) as Partial<Desk>;
}
