import { describe, expect, it } from "vitest";
import type { InstrumentSketch } from "#engine/pipeline";
import { offSheet, onSheet, type Place, sheetLayout } from "./sheetLayout.ts";
import { fitted, panned, pinched, type SheetView, toScreen, toSheet, zoomedAt } from "./sheetView.ts";
import { sketchOf } from "./sketchOf.fixture.ts";

const right = sketchOf("low-radial");
const left = sketchOf("low-radial", "left");
const size = { width: 900, height: 600 };

describe("sheetLayout", () => {
  it("lays every drawing where its places come back from, for both hands and all sides", () => {
    for (const sketch of [right, left])
      for (const face of ["front", "top inside", "back inside"] as const) {
        const layout = sheetLayout(sketch, face);
        for (const view of ["plan", "side", "across"] as const) {
          const [a, b] = offSheet(layout, view, onSheet(layout, view, [0.31, -0.07]));
          expect(a).toBeCloseTo(0.31, 12);
          expect(b).toBeCloseTo(-0.07, 12);
        }
      }
  });

  it("draws to scale: a metre of wood is a thousand millimetres of the sheet in every drawing", () => {
    const layout = sheetLayout(right, "front");
    for (const view of ["plan", "side", "across"] as const) {
      const [a, b] = [onSheet(layout, view, [0.1, 0.02]), onSheet(layout, view, [0.4, 0.02])];
      expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeCloseTo(300, 9);
    }
  });

  it("turns a right-handed guitar without mirroring it, and a left-handed one is its mirror image", () => {
    // from the tail towards the neck, then a quarter turn against the clock as one sees it: the bass side
    const sense = (sketch: InstrumentSketch, face: "front" | "top inside"): number => {
      const layout = sheetLayout(sketch, face);
      const [o, x, y] = [[0, 0] as const, [0.1, 0] as const, [0, 0.1] as const].map((p) =>
        onSheet(layout, "plan", p),
      );
      // q runs down: against the clock is negative
      return Math.sign((x![0] - o![0]) * (y![1] - o![1]) - (x![1] - o![1]) * (y![0] - o![0]));
    };
    expect(sense(right, "front")).toBe(-1);
    expect(sense(left, "front")).toBe(1);
    expect(sense(right, "top inside")).toBe(1);
  });

  it("keeps the drawings apart: none lies on another", () => {
    for (const sketch of [right, left]) {
      const { plan, side, across } = sheetLayout(sketch, "front").boxes;
      expect(side.top).toBeGreaterThan(plan.bottom);
      const apart = across.left > plan.right || across.right < plan.left;
      expect(apart).toBe(true);
    }
  });
});

describe("sheetView", () => {
  const layout = sheetLayout(right, "front");
  const start = fitted(layout.body, size, "long");

  it("fits the body into the window in either turn, and comes back from the screen", () => {
    for (const turn of ["long", "upright"] as const)
      for (const hand of ["right", "left"] as const) {
        const view = fitted(layout.body, size, turn);
        for (const corner of [
          [layout.body.left, layout.body.top],
          [layout.body.right, layout.body.bottom],
        ] as const) {
          const [x, y] = toScreen(view, hand, size, corner);
          expect(x).toBeGreaterThan(0);
          expect(x).toBeLessThan(size.width);
          expect(y).toBeGreaterThan(0);
          expect(y).toBeLessThan(size.height);
          const back = toSheet(view, hand, size, [x, y]);
          expect(back[0]).toBeCloseTo(corner[0], 9);
          expect(back[1]).toBeCloseTo(corner[1], 9);
        }
      }
  });

  it("turns the neck up for either hand", () => {
    for (const sketch of [right, left]) {
      const own = sheetLayout(sketch, "front");
      const view = fitted(own.body, size, "upright");
      const [tail, neck] = [0, 0.5].map((x) => toScreen(view, own.hand, size, onSheet(own, "plan", [x, 0])));
      expect(neck![1]).toBeLessThan(tail![1] - 100);
      expect(neck![0]).toBeCloseTo(tail![0], 9);
    }
  });

  it("zooms about the pointer: what lies under it stays there", () => {
    const at: Place = [222, 333];
    const under = toSheet(start, "right", size, at);
    const view = zoomedAt(start, "right", size, at, 1.7);
    expect(view.scale).toBeCloseTo(1.7 * start.scale, 12);
    const now = toScreen(view, "right", size, under);
    expect(now[0]).toBeCloseTo(at[0], 9);
    expect(now[1]).toBeCloseTo(at[1], 9);
  });

  it("pans with the hand in either turn", () => {
    for (const turn of ["long", "upright"] as const) {
      const view: SheetView = { ...start, turn };
      const before = toScreen(view, "right", size, [10, 20]);
      const after = toScreen(panned(view, "right", size, 30, -12), "right", size, [10, 20]);
      expect(after[0] - before[0]).toBeCloseTo(30, 9);
      expect(after[1] - before[1]).toBeCloseTo(-12, 9);
    }
  });

  it("keeps the sheet under both fingers of a pinch that does not turn", () => {
    const before = [
      [300, 200],
      [500, 200],
    ] as const;
    const after = [
      [200, 260],
      [600, 260],
    ] as const;
    const places = before.map((p) => toSheet(start, "right", size, p));
    const view = pinched(start, "right", size, before, after);
    for (const i of [0, 1] as const) {
      const [x, y] = toScreen(view, "right", size, places[i]!);
      expect(x).toBeCloseTo(after[i][0], 9);
      expect(y).toBeCloseTo(after[i][1], 9);
    }
  });
});
