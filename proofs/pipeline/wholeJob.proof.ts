/**
 * The main job end to end on the three examples, on a coarse mesh: the JSON contracts hold, the definitions agree with one another,
 * a left-handed instrument has the modes of its right-handed twin, and a few rules of the trade are met.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { voiceReport as voiceSheet } from "#engine/drawings";
import { polygonCentroid } from "#engine/geometry";
import { opened } from "#engine/numerics";
import {
  computeVoice,
  defaultBodySettings,
  loadReport,
  slotsReport,
  type Voice,
  type VoiceReport,
  voiceReport,
  voiceView,
} from "#engine/pipeline";
import { noteFrequency } from "#engine/strings";
import { coarse, coarseVoice, crew, fast } from "./coarseBody.ts";
import { openExample } from "./openExample.ts";

describe.each(["low-radial", "cross-braced", "small-ladder"])("example %s", (name) => {
  let voice: Voice;
  let report: VoiceReport;
  const example = openExample(name);
  beforeAll(async () => {
    voice = await coarseVoice(example);
    report = JSON.parse(JSON.stringify(voiceReport(voice))) as VoiceReport;
  });

  it("keeps the JSON contract of voice, every number finite or null", () => {
    expect(Object.keys(report)).toEqual(
      expect.arrayContaining(["bodyModes", "noteBoard", "evenness", "activeTop", "validToHz", "verdicts"]),
    );
    for (const mode of report.bodyModes) {
      expect(mode.frequencyHz).toBeGreaterThan(0);
      expect(mode.q).toBeGreaterThan(1);
      expect(mode.volumeVelocityShareByThird).toHaveLength(3);
    }
    const { frets, strings } = example.build.board;
    expect(report.noteBoard).toHaveLength(strings * (frets + 1));
    for (const row of report.noteBoard) {
      expect(row).toEqual(expect.objectContaining({ string: expect.any(Number), fret: expect.any(Number) }));
      for (const key of ["levelDb", "decayS", "wolfIndex", "deadIndex", "verdict", "blame"]) {
        expect(row).toHaveProperty(key);
      }
    }
    expect(report.validToHz).toBeLessThanOrEqual(1000);
  });

  it("gives no level to a note whose fundamental lies above validToHz, and says why", () => {
    for (const row of report.noteBoard) {
      if (row.frequencyHz > report.validToHz) {
        expect(row.levelDb).toBeNull();
        expect(row.foreseen).toBe(false);
        expect(row.reason).toBeTruthy();
      }
    }
  });

  it("finds main air, main top and main back by their motion, once each", () => {
    const names = report.bodyModes.map((mode) => mode.name);
    for (const wanted of ["main air", "main top", "main back"]) {
      expect(names.filter((found) => found === wanted)).toHaveLength(1);
    }
  });

  it("blames modes that exist, near the partial that it names", () => {
    for (const { blame, wolfIndex, frequencyHz } of report.noteBoard) {
      if (blame === null || wolfIndex === null || wolfIndex < 1) continue;
      const mode = report.bodyModes[blame.modeIndex]!;
      const cents = 1200 * Math.log2((blame.partial * frequencyHz) / mode.frequencyHz);
      // the partial is a little sharp of the tempered multiple through its stiffness
      expect(Math.abs(cents - blame.centsOff)).toBeLessThan(25);
    }
  });

  it("draws a report without any request to the outside", () => {
    const html = voiceSheet(voiceView(voice));
    expect(html).toContain("<svg");
    expect(html).not.toMatch(/(src|href)="(https?:)?\/\//);
  });

  it("keeps the contracts of slots and load", async () => {
    const slots = slotsReport(example.build, example.geometry, example.strings);
    expect(slots.slots).toHaveLength(example.build.board.frets);
    for (const string of slots.strings) {
      // octave at half the scale: equal temperament (ISO 16)
      const twelve = string.frets.find((f) => f.fret === 12)!;
      expect(Math.abs(twelve.nutToFretM / string.scaleLengthM - 0.5)).toBeLessThan(1e-12);
    }
    const load = opened(
      await loadReport(example.build, example.geometry, example.strings, coarse, crew, fast),
    );
    const sum = load.strings.reduce((total, s) => total + s.tensionN, 0);
    expect(load.totalN).toBeCloseTo(sum, 9);
    expect(load.bridge.rotationDeg).toBeGreaterThan(0);
  });
});

describe("a left-handed instrument", () => {
  it("has the modes and the notes of its right-handed twin, its slots mirrored, string 1 still the highest", async () => {
    const right = openExample("low-radial");
    const left = openExample("low-radial", (document) => Object.assign(document, { hand: "left" }));
    const [a, b] = [await coarseVoice(right), await coarseVoice(left)];
    expect(voiceReport(b).bodyModes).toEqual(voiceReport(a).bodyModes);
    expect(voiceReport(b).noteBoard).toEqual(voiceReport(a).noteBoard);
    const [ra, rb] = [right, left].map((e) => slotsReport(e.build, e.geometry, e.strings));
    ra!.slots.forEach((slot, i) => {
      expect(rb!.slots[i]!.bass).toEqual([slot.bass[0], -slot.bass[1]]);
      expect(rb!.slots[i]!.fret).toBe(slot.fret);
      expect(rb!.slots[i]!.angleDeg).toBe(slot.angleDeg);
    });
    expect(left.strings[0]!.frequency).toBeGreaterThan(left.strings[5]!.frequency);
    const [holeA, holeB] = [a, b].map((voice) => polygonCentroid(voiceView(voice).plan.hole));
    expect(holeA![1]).toBeGreaterThan(0.05);
    expect(holeB![1]).toBeCloseTo(-holeA![1], 12);
  });
});

describe("rules of the trade (common practice, no source)", () => {
  it("a light steel set on about 648 mm pulls 70 to 80 kgf", () => {
    const { strings } = openExample("cross-braced");
    const kilogramsForce = strings.reduce((sum, s) => sum + s.tension, 0) / 9.80665;
    expect(kilogramsForce).toBeGreaterThan(70);
    expect(kilogramsForce).toBeLessThan(80);
  });

  it("string 1 at fret 15 is G5 in standard tuning", () => {
    const { build } = openExample("cross-braced");
    const fretted = build.strings[0]!.frequency * 2 ** (15 / 12);
    const g5 = opened(noteFrequency("G5"));
    expect(Math.abs(1200 * Math.log2(fretted / g5))).toBeLessThan(1e-6);
  });

  it("a guitar's lowest resonance lies at 90 to 120 Hz and its second at 170 to 250 Hz (CHRISTENSEN-1980, ranges over guitars)", async () => {
    // on the default mesh: the coarse one has main air 4 % high
    const { build, geometry, strings } = openExample("cross-braced");
    const voice = opened(await computeVoice(build, geometry, strings, crew, defaultBodySettings, fast));
    const { response } = voice.body;
    const air = response.frequency[response.name.indexOf("main air")]!;
    const top = response.frequency[response.name.indexOf("main top")]!;
    expect(air).toBeGreaterThan(90);
    expect(air).toBeLessThan(120);
    expect(top).toBeGreaterThan(170);
    expect(top).toBeLessThan(250);
  });
});
