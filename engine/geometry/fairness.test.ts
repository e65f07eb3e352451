import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { bodyPlan } from "./bodyPlan.ts";
import type { BodySpec } from "./bodySpec.ts";
import { sampleCurve } from "./curve.ts";
import { fairness } from "./fairness.ts";
import { outlineCurve } from "./outline.ts";
import { deepCutaway, plainBody, plainOutline } from "./plan.fixture.ts";

function reportOf(change: Partial<BodySpec>, which: "outline" | "hole" = "outline") {
  return fairness(opened(bodyPlan({ ...plainBody, ...change })), which);
}

/** Points of the plain outline about 12 mm apart. */
function tracedOutline(): Float64Array {
  return sampleCurve(opened(outlineCurve(plainOutline)).curve, 0.012);
}

/** Points 4 mm apart on an oval of four arcs, radii 0.1 and 0.3, which touch at 45 degrees: curvature jumps four times. */
function fourArcs(): Float64Array {
  const apart = 0.2 * Math.SQRT1_2;
  const quarter = Math.PI / 4;
  const points: number[] = [];
  for (const [cx, cy, radius, from] of [
    [0.1, 0, 0.1, 5 * quarter - Math.PI / 2],
    [0.1 + apart, apart, 0.3, 5 * quarter],
    [0.1 + 2 * apart, 0, 0.1, 7 * quarter],
    [0.1 + apart, -apart, 0.3, quarter],
  ]) {
    const steps = Math.round((radius * 2 * quarter) / 0.004);
    for (let i = 0; i < steps; i++) {
      const angle = from + (2 * quarter * i) / steps;
      points.push(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle));
    }
  }
  return Float64Array.from(points);
}

describe("fairness", () => {
  it("finds nothing wrong with an outline from dimensions, with or without a cutaway, nor with a round or oval hole", () => {
    expect(reportOf({}).findings).toEqual([]);
    expect(reportOf({ cutaway: deepCutaway }).findings).toEqual([]);
    expect(reportOf({}, "hole").findings).toEqual([]);
    const oval: BodySpec["hole"] = {
      kind: "ellipse",
      centre: [0.4, 0.08],
      semiAxes: [0.05, 0.03],
      angle: 0.4,
    };
    expect(reportOf({ hole: oval }, "hole").findings).toEqual([]);
  });

  it("finds nothing wrong with the same outline traced through points", () => {
    expect(reportOf({ outline: { kind: "points", points: tracedOutline() } }).findings).toEqual([]);
  });

  it("names the place where one traced point is 0.6 mm out", () => {
    const points = tracedOutline();
    const n = points.length / 2;
    for (const [at, part] of [
      [Math.round(0.15 * n), "lower bout, treble side"],
      [Math.round(0.72 * n), "waist, bass side"],
    ] as const) {
      const moved = points.slice();
      moved[2 * at + 1] -= 0.0006;
      const { findings } = reportOf({ outline: { kind: "points", points: moved } });
      expect(findings.length).toBeGreaterThan(0);
      expect(findings.map((f) => f.part)).toContain(part);
      const gap = Math.min(
        ...findings.map((f) => Math.hypot(f.place[0] - moved[2 * at], f.place[1] - moved[2 * at + 1])),
      );
      expect(gap).toBeLessThan(0.02);
    }
  });

  it("names all four jumps of an oval made of four arcs, with the curvatures either side", () => {
    const { findings } = reportOf({
      outline: { kind: "points", points: fourArcs() },
      topDome: null,
      backDome: null,
    });
    const jumps = findings.filter((f) => f.kind === "jump");
    expect(jumps).toHaveLength(4);
    for (const jump of jumps) {
      const [low, high] = [...jump.curvatures].sort((a, b) => a - b);
      expect(low).toBeCloseTo(1 / 0.3, 0);
      expect(high).toBeCloseTo(1 / 0.1, 0);
      const apart = 0.2 * Math.SQRT1_2;
      const fromEnds = [0.1, 0.1 + 2 * apart].map((cx) =>
        Math.hypot(
          Math.abs(jump.place[0] - cx) - 0.1 * Math.SQRT1_2,
          Math.abs(jump.place[1]) - 0.1 * Math.SQRT1_2,
        ),
      );
      expect(Math.min(...fromEnds)).toBeLessThan(0.006);
    }
  });

  it("gives a comb that closes: curvature along the edge adds up to one full turn", () => {
    const plan = opened(bodyPlan({ ...plainBody, cutaway: deepCutaway }));
    const { comb } = fairness(plan, "outline");
    const n = comb.curvature.length;
    let turned = 0;
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      const step = Math.hypot(
        comb.points[2 * j] - comb.points[2 * i],
        comb.points[2 * j + 1] - comb.points[2 * i + 1],
      );
      turned += ((comb.curvature[i] + comb.curvature[j]) / 2) * step;
    }
    expect(turned).toBeCloseTo(2 * Math.PI, 1);
  });

  it("puts the bending of a fair outline a little above the least, of a circle at it, of a wavy one above that", () => {
    const fair = reportOf({});
    expect(fair.energyRatio).toBeGreaterThan(1);
    expect(fair.energyRatio).toBeLessThan(1.3);
    const round = reportOf({}, "hole");
    expect(round.bendingEnergy).toBeCloseTo((2 * Math.PI) / 0.05, 4);
    expect(round.energyRatio).toBeGreaterThan(1);
    expect(round.energyRatio).toBeLessThan(1.01);
    const points = tracedOutline();
    for (let i = 0; i < points.length; i += 8) points[i + 1] *= 1.006;
    const wavy = reportOf({ outline: { kind: "points", points } });
    expect(wavy.bendingEnergy).toBeGreaterThan(1.1 * fair.bendingEnergy);
    expect(wavy.findings.length).toBeGreaterThan(4);
  });

  it("calls bass and treble by the player's side for a left-handed plan too", () => {
    const points = tracedOutline();
    points[2 * Math.round(0.15 * (points.length / 2)) + 1] -= 0.0006;
    const { findings } = reportOf({ hand: "left", outline: { kind: "points", points } });
    expect(findings.map((f) => f.part)).toContain("lower bout, treble side");
  });
});
