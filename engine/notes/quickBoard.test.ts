import { describe, expect, it } from "vitest";
import { opened, quiet, seededRandom } from "#engine/numerics";
import { designString } from "#engine/strings";
import type { NoteBoard } from "./board.ts";
import type { BridgeModes } from "./bridgeModes.ts";
import { randomBody } from "./denseSystem.fixture.ts";
import { noteBoard } from "./noteBoard.ts";
import type { NoteBoardInput } from "./noteBoardInput.ts";

const fretDistance = Float64Array.from({ length: 16 }, (_, f) => 0.65 * (1 - 2 ** (-f / 12)));
const open = [329.6276, 146.8324, 82.4069];
const strings = open.map((frequency, k) => ({
  string: 2 * k + 1,
  frequency,
  design: opened(
    designString(
      k === 0
        ? { kind: "plain", diameter: 0.3e-3, material: "steel" }
        : {
            kind: "wound",
            coreDiameter: 0.4e-3,
            coreShape: "hex",
            wraps: [{ diameter: k === 1 ? 0.2e-3 : 0.45e-3, material: "phosphor-bronze" }],
          },
    ),
  ),
  scaleLength: 0.65,
  fretDistance,
}));

/** Complex shapes and a pressure that turns with frequency, as damping and an outer field make them. */
function damped(plain: BridgeModes, seed: number): BridgeModes {
  const random = seededRandom(seed);
  const frequencies = Float64Array.of(100, 400, 700, 950);
  const count = plain.omega.length;
  const table = (share: (f: number) => number) => {
    const slope = plain.pressure.map(() => 0.5 * (random() - 0.5));
    return Float64Array.from({ length: 4 * count }, (_, k) => {
      const f = frequencies[Math.floor(k / count)]! / 1000;
      return share(f) * plain.pressure[k % count]! * (1 + slope[k % count]! * f * f);
    });
  };
  return {
    ...plain,
    shapeIm: plain.shape.map((s) => 0.1 * s * (random() - 0.5)),
    sound: {
      frequencies,
      listeners: ["metre"],
      re: table(() => 1),
      im: table((f) => 0.6 * f),
      travel: Float64Array.of(1),
      soundSpeed: 343,
    },
  };
}

function both(body: BridgeModes): readonly [quick: NoteBoard, exact: NoteBoard] {
  const input: NoteBoardInput = {
    strings,
    bodies: strings.map(() => body),
    frets: 15,
    validToHz: 900,
    decayValidToHz: 950,
  };
  return [
    opened(noteBoard({ ...input, quick: true }, quiet)),
    opened(noteBoard({ ...input, quick: false }, quiet)),
  ];
}

describe("the quick board", () => {
  const bodies: readonly (readonly [string, BridgeModes])[] = [
    ...[31, 32].map((seed) => [`30 modes, seed ${seed}`, randomBody(seed, 30, 70, 1200)] as const),
    ["90 modes, seed 33", randomBody(33, 90, 70, 1300)],
    ["complex shapes and sound, seed 34", damped(randomBody(34, 45, 70, 1250), 34)],
  ];
  for (const [title, body] of bodies) {
    const [quick, exact] = both(body);
    const pairs = quick.noteBoard.map((row, k) => [row, exact.noteBoard[k]!] as const);

    it(`says that it is quick, and has the same figures absent (${title})`, () => {
      expect([quick.quick, exact.quick]).toEqual([true, false]);
      for (const [a, b] of pairs)
        expect([a.levelDb === null, a.decayS === null]).toEqual([b.levelDb === null, b.decayS === null]);
    });

    it(`has every level within 0.2 dB of the exact one (${title})`, () => {
      for (const [a, b] of pairs) {
        if (a.levelDb === null) continue;
        expect(Math.abs(a.levelDb - b.levelDb!)).toBeLessThan(0.2);
        expect(Math.abs(a.levelDbA! - b.levelDbA!)).toBeLessThan(0.2);
      }
    });

    it(`has every decay within 3 % and the same wolf index (${title})`, () => {
      for (const [a, b] of pairs) {
        if (a.decayS !== null) expect(Math.abs(a.decayS / b.decayS! - 1)).toBeLessThan(0.03);
        expect(a.wolfIndex).toBe(b.wolfIndex);
        expect(a.blame).toEqual(b.blame);
      }
    });

    it(`has every partial within 1 % of its decay (${title})`, () => {
      for (const [a, b] of pairs)
        for (const [n, p] of a.partials.entries()) {
          expect(Math.abs(p.frequencyHz / b.partials[n]!.frequencyHz - 1)).toBeLessThan(1e-5);
          if (p.t60S !== null) expect(Math.abs(p.t60S / b.partials[n]!.t60S! - 1)).toBeLessThan(0.01);
        }
    });
  }
});
