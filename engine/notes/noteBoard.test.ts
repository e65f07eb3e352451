import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { designString, stretched, stringPartials } from "#engine/strings";
import type { BoardString } from "./boardString.ts";
import { randomBody } from "./denseSystem.fixture.ts";
import { noteBoard } from "./noteBoard.ts";
import type { NoteBoardInput } from "./noteBoardInput.ts";

const fretDistance = Float64Array.from({ length: 17 }, (_, f) => 0.65 * (1 - 2 ** (-f / 12)));
const strings: readonly BoardString[] = [
  {
    string: 1,
    frequency: 329.6276,
    design: opened(designString({ kind: "plain", diameter: 0.3e-3, material: "steel" })),
    scaleLength: 0.65,
    fretDistance,
  },
  {
    string: 5,
    frequency: 110,
    design: opened(
      designString({
        kind: "wound",
        coreDiameter: 0.4e-3,
        coreShape: "hex",
        wraps: [{ diameter: 0.3e-3, material: "phosphor-bronze" }],
      }),
    ),
    scaleLength: 0.65,
    fretDistance,
  },
];
const body = randomBody(21, 30, 95, 900);
const input: NoteBoardInput = { strings, bodies: [body, body], frets: 16, validToHz: 300 };
const board = opened(noteBoard(input, quiet));
const row = (string: number, fret: number) =>
  board.noteBoard.find((r) => r.string === string && r.fret === fret)!;

describe("the note board", () => {
  it("has a row for every string and fret, with its tempered pitch and name", () => {
    expect(board.noteBoard).toHaveLength(34);
    expect(row(1, 0).note).toBe("E4");
    expect(row(5, 12)).toMatchObject({ note: "A3" });
    expect(row(5, 12).frequencyHz).toBeCloseTo(220, 9);
  });

  it("gives levels up to the limit and says why there is none above it", () => {
    for (const r of board.noteBoard) {
      expect(r.levelDb !== null).toBe(r.frequencyHz <= 300);
      if (r.levelDb === null)
        expect(r).toMatchObject({ foreseen: false, levelDbA: null, levelRangeDb: null });
      if (r.levelDb === null) expect(r.reason).toContain("300 Hz");
      if (r.levelDb !== null) expect(r.levelDbA!).toBeLessThan(r.levelDb);
    }
  });

  it("gives no decay, wolf or dead index where the body's motion is not known", () => {
    const shorter = opened(noteBoard({ ...input, decayValidToHz: 350 }, quiet));
    expect(shorter.decayValidToHz).toBe(350);
    for (const r of shorter.noteBoard.filter((r) => r.frequencyHz > 350))
      expect(r).toMatchObject({
        decayS: null,
        wolfIndex: null,
        deadIndex: null,
        verdict: null,
        foreseen: false,
      });
  });

  it("knows the body's motion to 0.8 of its highest mode unless told", () => {
    expect(board.decayValidToHz).toBeCloseTo((0.8 * Math.max(...body.omega)) / (2 * Math.PI), 9);
  });

  it("takes the dead index from the neighbours' median decay", () => {
    const near = [4, 5, 6, 8, 9, 10].map((f) => row(5, f).decayS!).sort((a, b) => a - b);
    expect(row(5, 7).deadIndex!).toBeCloseTo((near[2]! + near[3]!) / 2 / row(5, 7).decayS!, 12);
  });

  it("is 6 dB louder and as long for twice the pressure, wolves alike", () => {
    const double = { ...body, pressure: body.pressure.map((p) => 2 * p) };
    const louder = opened(noteBoard({ ...input, bodies: [double, double] }, quiet));
    for (const [k, r] of board.noteBoard.entries()) {
      const other = louder.noteBoard[k]!;
      if (r.levelDb !== null) expect(other.levelDb! - r.levelDb).toBeCloseTo(20 * Math.log10(2), 6);
      if (r.decayS !== null) expect(other.decayS! / r.decayS).toBeCloseTo(1, 6);
      expect(other.wolfIndex).toBe(r.wolfIndex);
    }
  });

  it("blames the body mode that a note sits on, and says watch", () => {
    const sharp = { ...body, omega: body.omega.slice(), shape: body.shape.slice(), q: body.q.slice() };
    sharp.omega[4] = 2 * Math.PI * row(5, 5).frequencyHz;
    sharp.shape[12] = 3;
    sharp.q[4] = 50;
    const wolf = opened(noteBoard({ ...input, bodies: [body, sharp] }, quiet)).noteBoard.find(
      (r) => r.string === 5 && r.fret === 5,
    )!;
    expect(wolf.blame).toMatchObject({ modeIndex: 4, partial: 1 });
    expect(Math.abs(wolf.blame!.centsOff)).toBeLessThan(1);
    expect(wolf.wolfIndex!).toBeGreaterThan(1);
    expect(wolf.wolfIndex!).toBeLessThanOrEqual(wolf.blame!.couplingAtCoincidence * 1.001);
    expect(wolf.verdict).toBe("watch");
  });

  it("counts levels of frets 0 to 15 in the spread, and names the worst notes", () => {
    const { evenness } = board;
    const levels = board.noteBoard.filter((r) => r.fret <= 15 && r.levelDb !== null).map((r) => r.levelDb!);
    expect(evenness.notesCounted).toBe(levels.length);
    expect(evenness.notesInRange).toBe(32);
    expect(evenness.levelSpreadDb!).toBeGreaterThan(0);
    expect(evenness.levelSpreadDb!).toBeLessThanOrEqual(Math.max(...levels) - Math.min(...levels));
    for (const w of evenness.worst) expect(w.fret).toBeLessThanOrEqual(15);
  });

  it("skips rigid motions when it counts the modes that it blames", () => {
    const withRigid = {
      omega: Float64Array.of(0, ...body.omega),
      q: Float64Array.of(Number.POSITIVE_INFINITY, ...body.q),
      shape: Float64Array.of(0.1, 0, 0, ...body.shape),
      residual: body.residual,
      pressure: Float64Array.of(0, ...body.pressure),
    };
    const other = opened(noteBoard({ ...input, bodies: [withRigid, withRigid] }, quiet));
    for (const [k, r] of board.noteBoard.entries()) expect(other.noteBoard[k]!.blame).toEqual(r.blame);
  });

  it("fits its partials to the fret: both polarisations, tenth partial near ten times the first", () => {
    const { partials, frequencyHz } = row(5, 0);
    expect(partials).toHaveLength(20);
    expect(partials.filter((p) => p.polarisation === "across")).toHaveLength(10);
    expect(partials[18]!.frequencyHz / frequencyHz).toBeCloseTo(10, 0);
    for (const p of partials) expect(p.t60S === null).toBe(p.frequencyHz > board.decayValidToHz);
  });

  it("gives partials above the range the decay on the mean mobility, marked so, along the normal only", () => {
    const meanMobility = 0.01;
    const known = opened(noteBoard({ ...input, meanMobility }, quiet));
    for (const [k, r] of known.noteBoard.entries())
      for (const [n, p] of r.partials.entries()) {
        const plain = board.noteBoard[k]!.partials[n]!;
        const above = p.frequencyHz > known.decayValidToHz && p.polarisation === "normal";
        expect(p.statistical === true).toBe(above);
        expect(p.t60S === null).toBe(plain.t60S === null && !above);
      }
    // 2 f Z G and the string's own loss, ideal string: f = c/2L, Z = T/c
    const s = stretched(strings[1]!.design, 0.65, 110);
    const high = known.noteBoard.find((r) => r.string === 5 && r.fret === 0)!.partials[18]!;
    const wave = Math.sqrt(s.tension / s.linearDensity);
    const own = stringPartials(s, 10);
    const rate = 0.5 * own.lossFactor[9]! * own.omega[9]! + (wave / 0.65) * (s.tension / wave) * meanMobility;
    expect(high.statistical).toBe(true);
    expect((high.t60S! * rate) / Math.log(1000)).toBeCloseTo(1, 1);
  });

  it("refuses a board that does not fit, and stops when cancelled", () => {
    expect(noteBoard({ ...input, frets: 20 }, quiet)).toMatchObject({ ok: false, reason: "bad-board" });
    expect(noteBoard({ ...input, bodies: [body] }, quiet)).toMatchObject({ ok: false, reason: "bad-board" });
    const cancelled = { progress: () => {}, cancelled: () => true };
    expect(noteBoard(input, cancelled)).toMatchObject({ ok: false, reason: "cancelled" });
  });
});
