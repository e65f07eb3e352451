import type { DeskStore, Stage, VoicePicture } from "./deskTypes.ts";
import type { HeavyDuties } from "./heavyDuties.ts";
import type { Asked, Line } from "./line.ts";
import { oneAtATime } from "./oneAtATime.ts";
import { type Settled, settled, settledOutcome } from "./settled.ts";
import { ended, outcomeTold, ready, waiting, working } from "./stage.ts";

export type HeavyStage = "voice" | "load" | "beside";
type Slot = HeavyStage | "basis" | "other";

export interface HeavyStages {
  /** Brings the stage up to date with its text: from what is known, else computed when its turn comes. */
  begin(stage: HeavyStage): void;
  /** What runs or waits is wanted no more; the stage says "cancelled" if `say`. */
  callOff(stage: HeavyStage, say: boolean): void;
  /** Has what live edits start from sent through the port. */
  basis(
    text: string,
    port: MessagePort,
    told: (fraction: number, words: string) => void,
  ): Promise<Settled<true>>;
  callOffBasis(): void;
  voiceOf(text: string): Promise<VoicePicture | null>;
}

/**
 * The stages that take seconds, one at a time on the heavy worker, most urgent first. `textOf`: whose the stage is now. `voiceReady`: told
 * of every fresh voice, and whether it was computed just now.
 */
export function heavyStages(
  line: () => Line<HeavyDuties>,
  store: DeskStore,
  textOf: (stage: HeavyStage) => string | null,
  voiceReady: (text: string, computed: boolean) => void,
): HeavyStages {
  const slots = oneAtATime<Slot>(["voice", "load", "basis", "beside", "other"]);
  const running = new Map<Slot, Asked<unknown>>();
  /** Counts what was begun or called off, so that what comes late knows it. */
  const turns: Record<HeavyStage, number> = { voice: 0, load: 0, beside: 0 };

  /** Voices on the side, one after the other. */
  let others: Promise<unknown> = Promise.resolve();
  /** Told when another takes the place of a basis that waits. */
  let overtaken = (): void => {};

  const show = (stage: HeavyStage, next: (was: Stage<never>) => Stage<unknown>): void => {
    store.set({ [stage]: next(store.get()[stage] as Stage<never>) });
  };
  const run = async <A>(slot: Slot, asked: Asked<A>): Promise<A> => {
    running.set(slot, asked);
    try {
      return await asked.answer;
    } finally {
      running.delete(slot);
    }
  };

  const begin = async (stage: HeavyStage): Promise<void> => {
    const text = textOf(stage);
    if (text === null) return;
    const turn = ++turns[stage];
    const current = (): boolean => turn === turns[stage];
    show(stage, waiting);
    const known = await settled<unknown>(
      line().ask(stage === "load" ? "recallLoad" : "recallVoice", text).answer,
    );
    if (!current()) return;
    if (known.ok && known.value !== null) {
      show(stage, () => ready(known.value));
      if (stage === "voice") voiceReady(text, false);
      return;
    }
    slots.want(stage, async () => {
      if (!current()) return;
      show(stage, (was) => working(was, 0, "reading the document"));
      const told = (fraction: number, words: string): void => {
        if (current()) show(stage, (was) => working(was, fraction, words));
      };
      const asked = line().ask(stage === "load" ? "load" : "voice", text, { told });
      const outcome = await settledOutcome<unknown>(run<never>(stage, asked as Asked<never>));
      if (!current()) return;
      show(stage, (was) => outcomeTold(was, outcome));
      if (outcome.ok && stage === "voice") voiceReady(text, true);
    });
  };

  return {
    begin: (stage) => void begin(stage),
    callOff: (stage, say) => {
      turns[stage]++;
      slots.forget(stage);
      running.get(stage)?.callOff();
      const { status } = store.get()[stage];
      if (say && (status === "waiting" || status === "working"))
        show(stage, (was) => ended(was, "cancelled", null));
    },
    basis: (text, port, told) =>
      new Promise((settle) => {
        overtaken();
        overtaken = () => settle({ ok: false, reason: "cancelled", detail: "another is wanted first" });
        slots.want("basis", async () => {
          overtaken = () => {};
          const asked = line().ask("basis", { text, port }, { transfer: [port], told });
          settle(await settledOutcome(run("basis", asked)));
        });
      }),
    callOffBasis: () => {
      slots.forget("basis");
      overtaken();
      overtaken = () => {};
      running.get("basis")?.callOff();
    },
    voiceOf: async (text) => {
      const known = await settled(line().ask("recallVoice", text).answer);
      if (known.ok && known.value !== null) return known.value;
      const inTurn = others.then(
        () =>
          new Promise<VoicePicture | null>((settle) => {
            slots.want("other", async () => {
              const outcome = await settledOutcome(run("other", line().ask("voice", text)));
              settle(outcome.ok ? outcome.value : null);
            });
          }),
      );
      others = inTurn;
      return inTurn;
    },
  };
}
