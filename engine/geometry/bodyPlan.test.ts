import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { bodyPlan } from "./bodyPlan.ts";
import type { BodySpec } from "./bodySpec.ts";
import { selfCrossings } from "./crossings.ts";
import { curveLength, curvePoint } from "./curve.ts";
import { mirrorPlan } from "./mirror.ts";
import { deepCutaway, plainBody } from "./plan.fixture.ts";
import { distanceToPolyline, pointInPolygon, polygonArea, polylineLength } from "./polygon.ts";

const edgeHole: BodySpec["hole"] = {
  kind: "ellipse",
  centre: [0.43, 0.115],
  semiAxes: [0.045, 0.03],
  angle: 0.5,
};

function reasonOf(change: Partial<BodySpec>): string {
  const made = bodyPlan({ ...plainBody, ...change });
  return made.ok ? "ok" : made.reason;
}

describe("a body in plan", () => {
  it("cuts an inner hole out of the top and leaves the back whole", () => {
    const plan = opened(bodyPlan(plainBody));
    expect(plan.holeMeetsEdge).toBe(false);
    expect(plan.openEdge).toEqual([]);
    expect(plan.topRegion.holes).toHaveLength(1);
    expect(plan.backRegion.holes).toEqual([]);
    expect(plan.areas.hole).toBeCloseTo(Math.PI * 0.0025, 6);
    expect(plan.areas.top + plan.areas.hole).toBeCloseTo(plan.areas.plan, 9);
    expect(plan.areas.topTrue).toBeGreaterThan(plan.areas.top);
  });

  it("has polygons whose areas come close to the curves' own", () => {
    const plan = opened(bodyPlan(plainBody));
    expect(Math.abs(polygonArea(plan.outlinePolygon) / plan.areas.plan - 1)).toBeLessThan(5e-4);
    expect(Math.abs(polygonArea(plan.holePolygon) / plan.areas.holeInside - 1)).toBeLessThan(1e-3);
    const coarse = opened(bodyPlan(plainBody, 0.012));
    expect(coarse.areas.top).toBe(plan.areas.top);
    for (const key of ["topTrue", "backTrue"] as const) {
      expect(Math.abs(coarse.areas[key] / plan.areas[key] - 1)).toBeLessThan(1e-6);
    }
    expect(Math.abs(coarse.grossVolume / plan.grossVolume - 1)).toBeLessThan(5e-6);
    const openEdge = { ...plainBody, hole: edgeHole };
    const ratio =
      opened(bodyPlan(openEdge, 0.012)).areas.holeInside / opened(bodyPlan(openEdge)).areas.holeInside;
    expect(Math.abs(ratio - 1)).toBeLessThan(2e-3);
  });

  it("opens the edge where the hole crosses it, and accounts for every bit of area", () => {
    const plan = opened(bodyPlan({ ...plainBody, hole: edgeHole }));
    expect(plan.holeMeetsEdge).toBe(true);
    expect(plan.topRegion.holes).toEqual([]);
    expect(plan.openEdge).toHaveLength(1);
    expect(plan.areas.holeInside).toBeLessThan(plan.areas.hole);
    expect(Math.abs(plan.areas.top + plan.areas.holeInside - plan.areas.plan)).toBeLessThan(1e-6);
    const open = plan.openEdge[0];
    expect(polylineLength(open)).toBeGreaterThan(0.03);
    for (let i = 0; i < open.length; i += 2) {
      expect(distanceToPolyline(plan.outlinePolygon, open[i], open[i + 1], true)).toBeLessThan(1e-9);
    }
    // The middle of the open stretch has no wood beside it.
    const middle = 2 * Math.floor(open.length / 4);
    expect(pointInPolygon(plan.topRegion.outline, open[middle], open[middle + 1] - 0.003)).toBe(false);
    expect(selfCrossings(plan.topRegion.outline)).toEqual([]);
  });

  it("takes a hole that only touches the edge as meeting it", () => {
    const touching: BodySpec["hole"] = {
      kind: "ellipse",
      centre: [0.4, 0.144 - 0.04],
      semiAxes: [0.04, 0.04],
      angle: 0,
    };
    const plan = opened(bodyPlan({ ...plainBody, hole: touching }));
    expect(plan.holeMeetsEdge).toBe(true);
    expect(plan.openEdge.length).toBeGreaterThan(0);
  });

  it("takes any closed curve as a hole", () => {
    const bean = Float64Array.from({ length: 48 }, (_, k) => {
      const a = (2 * Math.PI * (k >> 1)) / 24;
      const r = 0.035 * (1 + 0.25 * Math.cos(2 * a) + 0.1 * Math.sin(3 * a));
      return k % 2 === 0 ? 0.4 + r * Math.cos(a) : 0.07 + r * Math.sin(a);
    });
    const plan = opened(bodyPlan({ ...plainBody, hole: { kind: "curve", points: bean } }));
    expect(plan.topRegion.holes).toHaveLength(1);
    for (let i = 0; i < bean.length; i += 2) {
      expect(distanceToPolyline(plan.holePolygon, bean[i], bean[i + 1], true)).toBeLessThan(2e-4);
    }
  });

  it("encloses about the air of a real guitar, less by what stands in it", () => {
    const plan = opened(bodyPlan(plainBody));
    // 12 to 18 litres: common practice, no source.
    expect(plan.grossVolume).toBeGreaterThan(0.012);
    expect(plan.grossVolume).toBeLessThan(0.018);
    expect(plan.grossVolume - plan.netVolume).toBeCloseTo(0.0009, 12);
  });

  it("loses to its sides just the strip they stand on", () => {
    const flat: BodySpec = {
      ...plainBody,
      topDome: null,
      backDome: null,
      depthAtTail: 0.1,
      depthAtNeck: 0.1,
      sideThickness: 0,
    };
    const bare = opened(bodyPlan(flat));
    const walled = opened(bodyPlan({ ...flat, sideThickness: 0.003 }));
    // A strip t wide inside a closed curve of length P has the area t P - pi t^2 (Steiner).
    const strip = 0.003 * curveLength(bare.outline) - Math.PI * 0.003 ** 2;
    expect((bare.grossVolume - walled.grossVolume) / (0.1 * strip)).toBeCloseTo(1, 4);
  });

  it("for the left hand is the mirror image, number for number, and mirrors back", () => {
    const spec: BodySpec = { ...plainBody, hole: edgeHole, cutaway: deepCutaway };
    const right = opened(bodyPlan(spec));
    const left = opened(bodyPlan({ ...spec, hand: "left" }));
    expect(left.hand).toBe("left");
    expect(left.areas).toEqual(right.areas);
    expect(left.netVolume).toBe(right.netVolume);
    expect(polygonArea(left.topRegion.outline)).toBeCloseTo(polygonArea(right.topRegion.outline), 14);
    const tip = (plan: typeof left) => plan.cutaway!.places.find((p) => p.name === "horn tip")!.place;
    expect(tip(left)).toEqual([tip(right)[0], -tip(right)[1]]);
    expect(left.cutaway!.side).toBe("treble");
    const [x, y] = curvePoint(left.outline, left.cutaway!.from);
    const [u, v] = curvePoint(right.outline, right.cutaway!.to);
    expect(Math.hypot(x - u, y + v)).toBeLessThan(1e-12);
    const back = mirrorPlan(left);
    expect(back.outlinePolygon).toEqual(right.outlinePolygon);
    expect(back.openEdge).toEqual(right.openEdge);
    expect(back.topRegion.outline).toEqual(right.topRegion.outline);
  });

  it("names an outline that crosses itself, with the place", () => {
    const points = Float64Array.of(
      0,
      0,
      0.1,
      -0.15,
      0.3,
      0.12,
      0.45,
      -0.1,
      0.5,
      0,
      0.45,
      0.1,
      0.3,
      -0.12,
      0.1,
      0.15,
    );
    const made = bodyPlan({ ...plainBody, outline: { kind: "points", points } });
    expect(made.ok).toBe(false);
    if (made.ok) return;
    expect(made.reason).toBe("outline-crosses-itself");
    expect(made.detail).toMatch(/\(0\.\d+, -?0\.\d+\) m/);
  });

  it("refuses holes outside, larger than the top, crossing themselves or cutting the top apart", () => {
    const ellipse = (x: number, y: number, a: number, b: number): BodySpec["hole"] => ({
      kind: "ellipse",
      centre: [x, y],
      semiAxes: [a, b],
      angle: 0,
    });
    expect(reasonOf({ hole: ellipse(0.8, 0, 0.05, 0.05) })).toBe("hole-outside");
    expect(reasonOf({ hole: ellipse(0.25, 0, 0.5, 0.5) })).toBe("hole-larger-than-top");
    expect(reasonOf({ hole: ellipse(0.3, 0, 0.04, 0.3) })).toBe("hole-cuts-top-apart");
    expect(reasonOf({ hole: ellipse(0.3, 0, 0, 0.3) })).toBe("hole-size");
    const eight = Float64Array.of(0.3, -0.03, 0.36, 0.03, 0.38, 0, 0.36, -0.03, 0.3, 0.03, 0.28, 0);
    expect(reasonOf({ hole: { kind: "curve", points: eight } })).toBe("hole-crosses-itself");
  });

  it("refuses depths, domes and sides that make no box", () => {
    expect(reasonOf({ depthAtTail: -0.1 })).toBe("depth");
    expect(reasonOf({ solidVolume: 0.05 })).toBe("depth");
    expect(
      reasonOf({ depthAtTail: 0.01, depthAtNeck: 0.01, backDome: { radius: 0.7, apex: [0.25, 0.15] } }),
    ).toBe("depth");
    expect(reasonOf({ topDome: { radius: 0.3, apex: [0.2, 0] } })).toBe("dome-too-tight");
    expect(reasonOf({ sideThickness: 0.1 })).toBe("side-too-thick");
  });

  it("answers every mangled figure with a plan of finite numbers or a reason, and never throws (fuzz)", () => {
    const odd = [0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e-300, 1e300, 1e9, 1e-9, 5];
    fc.assert(
      fc.property(
        fc.nat(),
        fc.constantFrom(...odd, "scale" as const),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        fc.boolean(),
        (pick, value, factor, withHorn) => {
          const spec = structuredClone({ ...plainBody, cutaway: withHorn ? deepCutaway : null });
          const places = numbersIn(spec);
          const { holder, key } = places[pick % places.length];
          holder[key] = value === "scale" ? holder[key] * factor : value;
          const made = bodyPlan(spec as BodySpec);
          if (!made.ok) {
            expect(made.detail.length).toBeGreaterThan(10);
            return;
          }
          const { areas, grossVolume, netVolume } = made.value;
          for (const figure of [...Object.values(areas), grossVolume, netVolume])
            expect(figure).toBeGreaterThanOrEqual(0);
          expect(made.value.outlinePolygon.every(Number.isFinite)).toBe(true);
        },
      ),
      { seed: 26, numRuns: 60 },
    );
  });
});

/** Every number in a record, as the thing that holds it and its key there. */
function numbersIn(record: object): { holder: Record<string, number>; key: string }[] {
  return Object.entries(record).flatMap(([key, value]) => {
    if (typeof value === "number") return [{ holder: record as Record<string, number>, key }];
    return typeof value === "object" && value !== null ? numbersIn(value) : [];
  });
}
