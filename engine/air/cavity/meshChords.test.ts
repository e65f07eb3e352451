import { describe, expect, it } from "vitest";
import { ellipse } from "./cavity.fixture.ts";
import { meshChords } from "./meshChords.ts";

const edges = (p: Float64Array, closed: boolean) => {
  const n = p.length / 2;
  return Array.from({ length: closed ? n : n - 1 }, (_, i) => {
    const j = (i + 1) % n;
    return Math.hypot(p[2 * j] - p[2 * i], p[2 * j + 1] - p[2 * i + 1]);
  });
};

describe("meshChords", () => {
  it("keeps the corners of a box and cuts its sides evenly", () => {
    const chords = meshChords(Float64Array.of(0, 0, 0.5, 0, 0.5, 0.4, 0, 0.4), 0.1, true);
    expect(chords.length / 2).toBe(18);
    for (const length of edges(chords, true)) expect(length).toBeCloseTo(0.1, 12);
  });

  it("shortens chords where the curve bends: an eighth of a turn each, at least six round a hole", () => {
    expect(meshChords(ellipse(0, 0, 0.01, 0.01), 0.1, true).length / 2).toBe(8);
    const flat = edges(meshChords(ellipse(0, 0, 0.2, 0.05), 0.06, true), true);
    expect(Math.max(...flat)).toBeLessThan(0.066);
    expect(Math.min(...flat)).toBeLessThan(0.03);
  });

  it("keeps the ends of an open chain", () => {
    const chords = meshChords(Float64Array.of(0, 0, 0.05, 0, 0.11, 0), 0.04, false);
    expect([chords[0], chords[chords.length - 2]]).toEqual([0, 0.11]);
    expect(chords.length / 2).toBe(4);
  });
});
