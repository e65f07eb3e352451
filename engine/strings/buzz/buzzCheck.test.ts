import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clearancesAhead, leastHeights, nearestCrowns, type PluckFor } from "./buzzCheck.ts";
import { heightsOverFrets, type StringOverBoard } from "./overBoard.ts";

const scaleLength = 0.65;
const fretPlace = Float64Array.from({ length: 21 }, (_, f) => scaleLength * (1 - 2 ** (-f / 12)));
const flat: StringOverBoard = {
  string: 1,
  scaleLength,
  fretPlace,
  crownHeight: new Float64Array(21),
  nutHeight: 4e-4,
  saddleHeight: 4e-3,
};
const pluck: PluckFor = (length) => ({ fromSaddle: length / 4, peak: 1e-3 });

describe("the buzz check", () => {
  it("at rest on a flat board finds the next fret, as high over it as the rise to the saddle has it", () => {
    const nearest = nearestCrowns(flat, null);
    expect(nearest[0]).toEqual({ clearance: expect.closeTo(heightsOverFrets(flat)[1]!, 15), overFret: 1 });
    for (let f = 1; f < 20; f++) {
      expect(nearest[f]!.overFret).toBe(f + 1);
      const share = 1 - 2 ** (-1 / 12);
      expect(nearest[f]!.clearance).toBeCloseTo(4e-3 * share, 15);
    }
    expect(nearest[20]).toBeNull();
  });

  it("takes off the reach of the pluck: one shape at every fret strikes alike on a flat board", () => {
    const nearest = nearestCrowns(flat, pluck);
    // stopped: ahead by a share u of what sounds, 4 mm u over the crowns less 1 mm u / (1/4): nothing left up to a quarter
    for (let f = 1; f < 20; f++) expect(Math.abs(nearest[f]!.clearance)).toBeLessThan(1e-15);
  });

  it("lists the string at rest over every crown ahead, open as over its frets, stopped as the nearest has it", () => {
    const crownHeight = Float64Array.from(fretPlace, (_, f) => 1e-4 * Math.sin(f));
    const s = { ...flat, crownHeight };
    const ahead = clearancesAhead(s);
    const open = heightsOverFrets(s);
    for (let f = 1; f <= 20; f++) expect(ahead[0]![f - 1]).toBeCloseTo(open[f]!, 15);
    const nearest = nearestCrowns(s, null);
    for (let f = 0; f < 20; f++) {
      expect(ahead[f]).toHaveLength(20 - f);
      expect(Math.min(...ahead[f]!)).toBe(nearest[f]!.clearance);
      expect(ahead[f]![nearest[f]!.overFret - f - 1]).toBe(nearest[f]!.clearance);
    }
    expect(ahead[20]).toEqual([]);
  });

  it("finds a high fret from every fret behind it, and from none before", () => {
    const crownHeight = new Float64Array(21);
    crownHeight[9] = 5e-4;
    const nearest = nearestCrowns({ ...flat, crownHeight }, null);
    expect(nearest[8]).toMatchObject({ overFret: 9 });
    expect(nearest[8]!.clearance).toBeLessThan(0);
    expect(nearest[7]).toMatchObject({ overFret: 9 });
    expect(nearest[9]!.overFret).toBe(10);
    expect(nearest[9]!.clearance).toBeGreaterThan(0);
  });

  it("names heights of saddle and nut at which the worst note just clears (fuzz)", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -2e-4, max: 2e-4, noNaN: true }), { minLength: 21, maxLength: 21 }),
        fc.double({ min: 1e-4, max: 3e-3, noNaN: true }),
        fc.double({ min: 0.03, max: 0.5, noNaN: true }),
        (crowns, peak, share) => {
          const s = { ...flat, crownHeight: Float64Array.from(crowns) };
          const so: PluckFor = (length) => ({ fromSaddle: share * length, peak });
          const least = leastHeights(s, so);
          const raised = { ...s, saddleHeight: Math.max(least.saddle, s.saddleHeight), nutHeight: least.nut };
          const clear = nearestCrowns({ ...s, saddleHeight: least.saddle }, so)
            .slice(1, -1)
            .map((n) => n!.clearance);
          expect(Math.abs(Math.min(...clear))).toBeLessThan(1e-12);
          expect(Math.abs(nearestCrowns(raised, so)[0]!.clearance)).toBeLessThan(1e-12);
        },
      ),
      { seed: 4, numRuns: 60 },
    );
  });
});
