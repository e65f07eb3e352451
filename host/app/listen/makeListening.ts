import { commonGain } from "#engine/notes";
import type { RenderedPiece } from "#engine/pipeline";
import { wavBytes } from "#engine/signals";
import type { DeskDeeds, Sounding } from "../desk/deskTypes.ts";
import type { Asked, Heard, HeardSide, ListenDeeds, Listening, Loudspeaker } from "./listenTypes.ts";

/** It begins low each time the page is opened: ears come first. */
export const silence: Listening = {
  status: "silent",
  heard: null,
  side: "a",
  beside: null,
  tuning: null,
  volume: 0.55,
  fault: null,
};

/** dB below the ceiling at the lower end of the volume; there it is off. */
const quietestDb = 48;

/** Factor on the amplitude for a place of the volume: even steps for the ear, never above 1. */
export function loudnessOf(volume: number): number {
  const v = Math.min(1, Math.max(0, volume));
  return v === 0 ? 0 : 10 ** ((-quietestDb * (1 - v)) / 20);
}

export interface ListeningParts {
  readonly soundOf: DeskDeeds["soundOf"];
  /** Made at the first sound: a browser allows none before the user did something. */
  readonly loudspeaker: () => Loudspeaker;
  readonly get: () => Listening;
  readonly set: (change: Partial<Listening>) => void;
}

const notThere: Readonly<Record<Sounding, string>> = {
  voice: "This is not foreseen: its pitch lies above what the model reaches, or the voice is not computed.",
  live: "The edit under the hand is not there any more, or the note is not foreseen.",
  beside:
    "The other instrument's voice is not there yet, it has no such tuning, or the note is not foreseen.",
};

/** Listening: renders what is asked, sets one gain for both sides, and plays them in step. The latest wish wins. */
export function makeListening({ soundOf, loudspeaker, get, set }: ListeningParts): ListenDeeds {
  let made: Loudspeaker | null = null;
  let newest = 0;
  const speaker = (): Loudspeaker => {
    if (made === null) {
      made = loudspeaker();
      made.volume(loudnessOf(get().volume));
    }
    return made;
  };
  const render = async (asked: Asked, of: Sounding): Promise<RenderedPiece | null> => {
    const tuned = asked.tuning === null ? {} : { tuning: asked.tuning };
    return asked.kind === "note"
      ? soundOf({ of, string: asked.string, fret: asked.fret, ...tuned })
      : soundOf({ of, piece: asked.kind, ...tuned });
  };

  const play = async (asked: Asked): Promise<void> => {
    const own = ++newest;
    // before anything is waited for, while the browser still knows that the user asked
    const out = speaker();
    const { beside } = get();
    set({ status: "rendering", fault: null });
    const [a, b] = await Promise.all([
      render(asked, "voice"),
      beside === null ? null : render(asked, beside),
    ]);
    if (own !== newest) return;
    if (a === null) {
      out.stop();
      set({ status: "silent", fault: notThere.voice });
      return;
    }
    const sideA = heardSide("voice", a);
    const sideB = b === null || beside === null ? null : heardSide(beside, b);
    const both = sideB === null ? [sideA.samples] : [sideA.samples, sideB.samples];
    const heard: Heard = { asked, rate: a.rate, a: sideA, b: sideB, ...commonGain(both, a.rate) };
    const fault = beside !== null && sideB === null ? `A is heard alone. ${notThere[beside]}` : null;
    set({ heard, status: "playing", side: sideB === null ? "a" : get().side, fault });
    start(out, heard, own);
  };

  const start = (out: Loudspeaker, heard: Heard, own: number): void => {
    const sides = heard.b === null ? [heard.a.samples] : [heard.a.samples, heard.b.samples];
    const through = get().side === "b" && heard.b !== null ? 1 : 0;
    out.play(sides, heard.rate, heard.gain, through, () => {
      if (own === newest) set({ status: "silent" });
    });
  };

  const silenced = (): void => {
    newest++;
    made?.stop();
  };

  return {
    // as the board shows it
    playNote: (string, fret) => void play({ kind: "note", string, fret, tuning: null }),
    playPiece: (kind) => void play({ kind, tuning: get().tuning }),
    again() {
      const { heard } = get();
      if (heard === null) return;
      const own = ++newest;
      set({ status: "playing", fault: null });
      start(speaker(), heard, own);
    },
    stop() {
      silenced();
      set({ status: "silent" });
    },
    choose(side) {
      if (side === "b" && get().heard?.b === null) return;
      set({ side });
      made?.through(side === "a" ? 0 : 1);
    },
    setBeside(beside) {
      if (beside === get().beside) return;
      silenced();
      set({ beside, side: "a", heard: null, status: "silent", fault: null });
    },
    setTuning(tuning) {
      if (tuning === get().tuning) return;
      silenced();
      set({ tuning, heard: null, status: "silent", fault: null });
    },
    setVolume(volume) {
      set({ volume });
      made?.volume(loudnessOf(volume));
    },
    forget() {
      silenced();
      set({ heard: null, status: "silent", fault: null });
    },
    wav(float) {
      const { heard, side } = get();
      if (heard === null) return null;
      const { samples } = side === "b" && heard.b !== null ? heard.b : heard.a;
      return wavBytes(
        samples.map((p) => heard.gain * p),
        heard.rate,
        float ? "float32" : "pcm16",
      );
    },
    position: () => made?.position() ?? null,
  };
}

function heardSide(of: Sounding, { samples, leftOut }: RenderedPiece): HeardSide {
  return { of, samples, leftOut: leftOut.length };
}
