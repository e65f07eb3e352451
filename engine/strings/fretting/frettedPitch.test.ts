import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { leastFingerDepth } from "./fingerDepth.ts";
import { frettedPitch } from "./frettedPitch.ts";
import { type FrettingString, withAction } from "./frettingString.ts";
import { lightString } from "./lightString.fixture.ts";

const cents = (s: FrettingString, fret = 7) => opened(frettedPitch(s, fret)).cents;
const refusal = (s: FrettingString, fret = 7, offsets = { nut: 0, saddle: 0 }) => {
  const pitch = frettedPitch(s, fret, offsets);
  if (pitch.ok) throw new Error("it sounds");
  return `${pitch.reason}: ${pitch.detail}`;
};

describe("a string pressed behind a fret", () => {
  it("is sharper the higher the action, the stiffer the string and the deeper the finger", () => {
    const s = lightString();
    const now = cents(s);
    expect(cents(withAction(s, 3e-3))).toBeGreaterThan(now);
    expect(cents({ ...s, finger: { ...s.finger, depth: 5e-4 } })).toBeGreaterThan(now);
    for (const part of ["axialStiffness", "bendingStiffness"] as const)
      expect(cents({ ...s, design: { ...s.design, [part]: 1.5 * s.design[part] } })).toBeGreaterThan(now);
  });

  it("is less sharp where the lengths behind nut and saddle take their share of the stretch", () => {
    const held = opened(frettedPitch(lightString(), 5));
    const slipping = opened(frettedPitch(lightString({ friction: "none" }), 5));
    expect(slipping.strain / held.strain).toBeCloseTo(0.65 / (0.65 + 0.09 + 0.012), 2);
    expect(slipping.cents).toBeLessThan(held.cents);
  });

  it("is in tune at every fret if neither bending nor stretching costs anything", () => {
    const s = lightString();
    const ideal = { ...s, design: { ...s.design, bendingStiffness: 0, axialStiffness: 0 } };
    // what is left is the slope of the open string: its square, and the load that Hooke's law counts in
    for (let fret = 1; fret <= 20; fret++) expect(Math.abs(cents(ideal, fret))).toBeLessThan(0.2);
  });

  it("comes to rest on the fret behind the finger once it is pressed below both, and pushes on all it touches", () => {
    const pitch = opened(frettedPitch(lightString(), 7));
    expect(pitch.alsoOn).toEqual([6]);
    expect(pitch.crownForce).toBeGreaterThan(0);
    expect(pitch.fingerForce).toBeGreaterThan(pitch.crownForce);
    const first = opened(frettedPitch(lightString(), 1));
    expect(first.alsoOn).toEqual([]);
  });

  it("does not care where the base line lies", () => {
    const s = lightString();
    const tilt = (place: number) => 5e-3 - 1e-4 * place;
    const tilted: FrettingString = {
      ...s,
      crownHeight: s.crownHeight.map((h, f) => h + tilt(s.fretPlace[f]!)),
      nutHeight: s.nutHeight + tilt(0),
      saddleHeight: s.saddleHeight + tilt(s.scaleLength),
    };
    // heights are sheared, not turned: a saddle 4 mm up shifts by 0.4 um against the frets
    for (const fret of [1, 9, 20]) expect(Math.abs(cents(tilted, fret) - cents(s, fret))).toBeLessThan(0.01);
  });

  it("scales: twice the size, four times the pull, has the same cents", () => {
    const s = lightString();
    const twice = (x: Float64Array) => x.map((v) => 2 * v);
    const large: FrettingString = {
      ...s,
      design: {
        ...s.design,
        axialStiffness: 4 * s.design.axialStiffness,
        bendingStiffness: 16 * s.design.bendingStiffness,
        linearDensity: 4 * s.design.linearDensity,
      },
      openFrequency: s.openFrequency / 2,
      scaleLength: 2 * s.scaleLength,
      fretPlace: twice(s.fretPlace),
      crownHeight: twice(s.crownHeight),
      nutHeight: 2 * s.nutHeight,
      saddleHeight: 2 * s.saddleHeight,
      behindNut: 2 * s.behindNut,
      behindSaddle: 2 * s.behindSaddle,
      finger: { behind: { kind: "share", share: 0.5, most: 0.024 }, depth: 6e-4 },
    };
    for (const fret of [1, 9, 20]) expect(cents(large, fret)).toBeCloseTo(cents(s, fret), 8);
  });
});

describe("what cannot be played is refused with string and fret", () => {
  it("an open string that lies on a crown", () => {
    expect(refusal(lightString({}, -1e-4))).toMatch(
      /^open-on-a-fret: string 2, open: .* below the crown of fret \d+/,
    );
  });

  it("a note whose string comes down on a higher crown", () => {
    const s = lightString();
    const proud = { ...s, crownHeight: s.crownHeight.map((_, f) => (f === 12 ? 4e-4 : 0)) };
    expect(frettedPitch(proud, 9).ok).toBe(true);
    expect(refusal(proud, 11)).toMatch(
      /^sounds-from-another-fret: string 2, fret 11: pressed down it lies 0.\d\d mm below the crown of fret 12/,
    );
  });

  it("a finger too shallow to hold the string on the crown, with the depth that would", () => {
    const s = lightString();
    const light = { ...s, finger: { ...s.finger, depth: 2e-5 } };
    expect(refusal(light, 3)).toMatch(
      /^not-on-the-fret: string 2, fret 3: pressed 0.02 mm deep .* press 0\.\d\d mm/,
    );
    const held = { ...s, finger: { ...s.finger, depth: leastFingerDepth(s) } };
    for (let fret = 1; fret <= 20; fret++) expect(frettedPitch(held, fret).ok).toBe(true);
  });

  it("frets, offsets and figures that are none", () => {
    const s = lightString();
    expect(refusal(s, 21)).toMatch(/^no-such-fret: string 2: fret 21; it has 1 to 20/);
    expect(refusal(s, 7, { nut: 0.04, saddle: 0 })).toMatch(/^bad-setup: .*past fret 1/);
    expect(refusal(s, 7, { nut: 0, saddle: -0.3 })).toMatch(/^bad-setup: .*the saddle stands before fret 20/);
    expect(refusal({ ...s, openFrequency: Number.NaN })).toMatch(
      /^bad-setup: string 2: the open frequency is NaN/,
    );
    expect(refusal({ ...s, nutHeight: Number.NaN })).toMatch(/^bad-setup/);
    expect(refusal({ ...s, fretPlace: s.fretPlace.map(() => 0.1) })).toMatch(/^bad-setup: .*not beyond/);
  });
});
