import { describe, expect, it } from "vitest";
import type { RenderedPiece } from "#engine/pipeline";
import type { NoteAsked, PieceAsked } from "../desk/deskTypes.ts";
import type { Listening, Loudspeaker } from "./listenTypes.ts";
import { loudnessOf, makeListening, silence } from "./makeListening.ts";

const rate = 48000;
const tone = (pressure: number): RenderedPiece => ({
  samples: Float32Array.from({ length: rate }, (_, i) => pressure * Math.sin(0.05 * i)),
  rate,
  leftOut: [],
});

/** Listening with a loudspeaker that only remembers. */
function room(pressures: Partial<Record<string, number>>) {
  let state: Listening = silence;
  const said: string[] = [];
  const asked: (NoteAsked | PieceAsked)[] = [];
  const played: { gain: number; sides: number; through: number; ended: () => void }[] = [];
  const speaker: Loudspeaker = {
    play: (sides, _, gain, through, ended) => played.push({ gain, sides: sides.length, through, ended }),
    through: (side) => said.push(`through ${side}`),
    volume: (factor) => said.push(`volume ${factor.toFixed(3)}`),
    stop: () => said.push("stop"),
    position: () => 0.5,
  };
  let made = 0;
  const waiting: (() => void)[] = [];
  let held = false;
  const deeds = makeListening({
    soundOf: async (wish: NoteAsked | PieceAsked) => {
      const { of } = wish;
      asked.push(wish);
      if (held) await new Promise<void>((go) => waiting.push(go));
      const pressure = pressures[of];
      return pressure === undefined ? null : tone(pressure);
    },
    loudspeaker: () => {
      made++;
      return speaker;
    },
    get: () => state,
    set: (change) => {
      state = { ...state, ...change };
    },
  });
  return {
    deeds,
    played,
    said,
    asked,
    state: () => state,
    made: () => made,
    hold: () => {
      held = true;
    },
    letGo: () => {
      for (const go of waiting.splice(0)) go();
    },
  };
}

const settle = () => new Promise((go) => setTimeout(go, 0));

describe("listening", () => {
  it("makes no loudspeaker before something is played, and begins well below the ceiling", async () => {
    const r = room({ voice: 0.1 });
    r.deeds.stop();
    expect(r.made()).toBe(0);
    r.deeds.playNote(6, 0);
    expect(r.made()).toBe(1);
    await settle();
    expect(r.said).toContain(`volume ${loudnessOf(silence.volume).toFixed(3)}`);
    expect(loudnessOf(silence.volume)).toBeLessThan(0.1);
  });

  it("gives both sides one gain, that of the louder where it needs less", async () => {
    const quiet = room({ voice: 0.1, beside: 0.05 });
    quiet.deeds.setBeside("beside");
    quiet.deeds.playPiece("chord");
    await settle();
    expect(quiet.played).toMatchObject([{ gain: 1, sides: 2, through: 0 }]);
    const loud = room({ voice: 0.1, beside: 8 });
    loud.deeds.setBeside("beside");
    loud.deeds.playPiece("chord");
    await settle();
    expect(loud.played[0]!.gain).toBeLessThan(0.1);
    expect(loud.state().heard!.reducedDb).toBeGreaterThan(20);
  });

  it("keeps the side that was chosen when the next note is played, and changes it while playing", async () => {
    const r = room({ voice: 0.1, beside: 0.2 });
    r.deeds.setBeside("beside");
    r.deeds.playNote(5, 3);
    await settle();
    r.deeds.choose("b");
    expect(r.said.at(-1)).toBe("through 1");
    r.deeds.playNote(5, 5);
    await settle();
    expect(r.played.at(-1)!.through).toBe(1);
    r.deeds.again();
    expect(r.played.at(-1)!.through).toBe(1);
  });

  it("lets the latest wish win, whichever was rendered first", async () => {
    const r = room({ voice: 0.1 });
    r.hold();
    r.deeds.playNote(6, 0);
    r.deeds.playNote(6, 1);
    r.letGo();
    await settle();
    expect(r.played).toHaveLength(1);
    expect(r.state().heard!.asked).toEqual({ kind: "note", string: 6, fret: 1, tuning: null });
  });

  it("says why nothing is heard, and plays the first alone where the second is not there", async () => {
    const r = room({ voice: 0.1 });
    r.deeds.setBeside("live");
    r.deeds.choose("b");
    r.deeds.playNote(1, 20);
    await settle();
    expect(r.played).toMatchObject([{ sides: 1, through: 0 }]);
    expect(r.state()).toMatchObject({ status: "playing", side: "a" });
    expect(r.state().fault).toContain("under the hand");
    const none = room({});
    none.deeds.playNote(1, 20);
    await settle();
    expect(none.played).toHaveLength(0);
    expect(none.state().status).toBe("silent");
    expect(none.state().fault).toContain("not foreseen");
  });

  it("plays pieces of both sides in the tuning that is chosen, notes as the board shows them, and no longer has what was heard in another", async () => {
    const r = room({ voice: 0.1, beside: 0.1 });
    r.deeds.setBeside("beside");
    r.deeds.playPiece("chord");
    await settle();
    expect(r.asked.map(({ tuning }) => tuning)).toEqual([undefined, undefined]);
    r.deeds.setTuning("open D");
    expect(r.state().heard).toBeNull();
    r.deeds.playPiece("chord");
    await settle();
    expect(r.asked.slice(2).map(({ of, tuning }) => [of, tuning])).toEqual([
      ["voice", "open D"],
      ["beside", "open D"],
    ]);
    r.deeds.playNote(6, 0);
    await settle();
    expect(r.asked.at(-1)).toEqual({ of: "beside", string: 6, fret: 0 });
  });

  it("is silent again at the end, but not when an older sound ends", async () => {
    const r = room({ voice: 0.1 });
    r.deeds.playNote(6, 0);
    await settle();
    r.deeds.playNote(6, 2);
    await settle();
    r.played[0]!.ended();
    expect(r.state().status).toBe("playing");
    r.played[1]!.ended();
    expect(r.state().status).toBe("silent");
  });

  it("forgets what belongs to another document, also what is still on its way", async () => {
    const r = room({ voice: 0.1 });
    r.hold();
    r.deeds.playNote(6, 0);
    r.deeds.forget();
    r.letGo();
    await settle();
    expect(r.played).toHaveLength(0);
    expect(r.deeds.wav(false)).toBeNull();
  });

  it("saves the side in the ears at the common gain", async () => {
    const r = room({ voice: 0.1, beside: 0.2 });
    r.deeds.setBeside("beside");
    r.deeds.playNote(6, 0);
    await settle();
    const peak = (bytes: Uint8Array<ArrayBuffer>) => {
      const data = new Int16Array(bytes.buffer, 44);
      return data.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    };
    const a = peak(r.deeds.wav(false)!);
    r.deeds.choose("b");
    expect(peak(r.deeds.wav(false)!) / a).toBeCloseTo(2, 2);
  });
});

it("the volume never goes above the ceiling and is silent at its lower end", () => {
  expect(loudnessOf(0)).toBe(0);
  expect(loudnessOf(1)).toBe(1);
  expect(loudnessOf(7)).toBe(1);
  expect(loudnessOf(0.5)).toBeCloseTo(10 ** (-24 / 20), 9);
});
