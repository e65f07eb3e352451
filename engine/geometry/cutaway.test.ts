import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { CutawaySpec } from "./bodySpec.ts";
import { selfCrossings } from "./crossings.ts";
import { curveCurvature, curveJet, curvePoint, type PlaneCurve, sampleCurve } from "./curve.ts";
import { withCutaway } from "./cutaway.ts";
import { outlineCurve } from "./outline.ts";
import { deepCutaway, plainOutline } from "./plan.fixture.ts";

const outline = opened(outlineCurve(plainOutline));

function cut(change: Partial<CutawaySpec> = {}) {
  return opened(withCutaway(outline, { ...deepCutaway, ...change }));
}

/** Curvatures at 4000 places of the cutaway's edge. */
function edgeCurvatures(curve: PlaneCurve, from: number, to: number): number[] {
  return Array.from({ length: 4001 }, (_, i) => curveCurvature(curve, from + ((to - from) * i) / 4000));
}

describe("a cutaway", () => {
  it("has its deepest place, its horn, its corner and its tip radius where they were asked for", () => {
    const { curve, report } = cut();
    const { from, to, places } = report!;
    const edge = Array.from({ length: 20001 }, (_, i) => curvePoint(curve, from + ((to - from) * i) / 20000));
    const tip = places.find((p) => p.name === "horn tip")!;
    const corner = places.find((p) => p.name === "corner")!;
    const scoop = places.find((p) => p.name === "scoop")!;
    expect(1 / tip.curvature).toBeCloseTo(0.012, 12);
    expect(1 / corner.curvature).toBeCloseTo(0.008, 12);
    expect(corner.place[1]).toBeCloseTo(-0.034, 9);
    const horn = edge.filter(([, y]) => y < scoop.place[1]);
    expect(Math.max(...horn.map(([x]) => x))).toBeCloseTo(0.505 - 0.062, 6);
    const inner = edge.filter(([, y]) => y > tip.place[1]);
    expect(Math.min(...inner.map(([x]) => x))).toBeCloseTo(0.505 - 0.1, 6);
  });

  it("keeps the whole outline one closed curve of continuous curvature", () => {
    const { curve } = cut();
    const span = curve.knots[curve.knots.length - 1];
    for (const knot of curve.knots) {
      const before = curveJet(curve, knot - 1e-12 * span);
      const after = curveJet(curve, knot + 1e-12 * span);
      for (let i = 0; i < 6; i++) expect(Math.abs(before[i] - after[i])).toBeLessThan(1e-6);
    }
    expect(selfCrossings(sampleCurve(curve, 0.003))).toEqual([]);
  });

  it("has curvature that only falls from the horn's tip to the scoop, and three extrema in all", () => {
    for (const change of [
      {},
      { depth: 0.085, tipSetback: 0.05 },
      { tipRadius: 0.018 },
      { side: "bass" as const },
    ]) {
      const { curve, report } = cut(change);
      const along = edgeCurvatures(curve, report!.from, report!.to);
      if (change.side === "bass") along.reverse();
      const turns = [];
      for (let i = 1; i < along.length - 1; i++) {
        if ((along[i] - along[i - 1]) * (along[i + 1] - along[i]) < -1e-7) turns.push(i);
      }
      expect(turns).toHaveLength(3);
      const [tip, scoop, corner] = turns;
      expect(along[tip]).toBeGreaterThan(50);
      expect(along[scoop]).toBeLessThan(-15);
      expect(along[corner]).toBeGreaterThan(120);
      for (let i = tip + 1; i <= scoop; i++) expect(along[i]).toBeLessThanOrEqual(along[i - 1] + 1e-6);
    }
  });

  it("leaves the rest of the outline as it was", () => {
    const { curve, report } = cut();
    for (const t of [0, 0.3 * report!.from, 0.99 * report!.from]) {
      const [x, y] = curvePoint(curve, t);
      const [u, v] = curvePoint(outline.curve, t);
      expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-9);
    }
    const whole = curve.knots[curve.knots.length - 1];
    const before = outline.curve.knots[outline.curve.knots.length - 1];
    for (const back of [0.1, 0.4, 0.7]) {
      const [x, y] = curvePoint(curve, whole - back);
      const [u, v] = curvePoint(outline.curve, before - back);
      expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-9);
    }
  });

  it("on the bass side is the mirror image of the one on the treble side", () => {
    const treble = cut();
    const bass = cut({ side: "bass" });
    const whole = treble.curve.knots[treble.curve.knots.length - 1];
    for (let i = 0; i < 60; i++) {
      const [x, y] = curvePoint(treble.curve, (i / 60) * whole);
      const [u, v] = curvePoint(bass.curve, whole - (i / 60) * whole);
      expect(Math.hypot(x - u, y + v)).toBeLessThan(1e-7);
    }
  });

  it("bends no tighter in the scoop than it was told", () => {
    const free = cut().report!.places.find((p) => p.name === "scoop")!;
    const held = cut({ scoopRadius: 0.027 }).report!.places.find((p) => p.name === "scoop")!;
    expect(1 / held.curvature).toBeCloseTo(-0.027, 10);
    expect(Math.abs(1 / free.curvature + 0.027)).toBeGreaterThan(1e-4);
  });

  it("is refused with a reason when the figures leave no room or make no sense", () => {
    const refused = (change: Partial<CutawaySpec>): string => {
      const made = withCutaway(outline, { ...deepCutaway, ...change });
      return made.ok ? "ok" : made.reason;
    };
    expect(refused({ depth: 0.05, tipSetback: 0.06 })).toBe("cutaway-size");
    expect(refused({ depth: 0.3 })).toBe("cutaway-size");
    expect(refused({ tipRadius: Number.NaN })).toBe("cutaway-size");
    expect(refused({ neckOffset: 0.14 })).toBe("no-cutaway");
    expect(refused({ tipRadius: 0.08 })).toBe("no-cutaway");
  });
});
