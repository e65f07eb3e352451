import { describe, expect, it } from "vitest";
import type { PlateMesh, VoiceView } from "#engine/drawings";
import type { InstrumentSketch } from "#engine/pipeline";
import { bodySolid, boxHeights } from "./bodySolid.ts";
import { heightAt } from "./bracePart.ts";
import type { SolidPart } from "./solidParts.ts";
import { exampleBoard, exampleSketch, squareView } from "./views.fixture.ts";

const sketch = exampleSketch("low-radial");

/** A plate of the outline's own points, as a fan about its middle. */
function fan(outline: Float64Array): PlateMesh {
  const n = outline.length / 2;
  const middle = [0, 1].map((k) => outline.filter((_, i) => i % 2 === k).reduce((a, b) => a + b, 0) / n);
  return {
    nodes: Float64Array.of(...outline, ...middle),
    triangles: Uint32Array.from(Array.from({ length: n }, (_, i) => [n, i, (i + 1) % n]).flat()),
  };
}

function viewOf(of: InstrumentSketch, hand: "right" | "left"): VoiceView {
  const turn = (polygon: Float64Array) => polygon.map((v, i) => (hand === "left" && i % 2 === 1 ? -v : v));
  const outline = turn(of.outline);
  const mesh = fan(outline);
  const view = squareView();
  return {
    ...view,
    hand,
    board: exampleBoard("low-radial", hand),
    plates: { top: mesh, back: mesh },
    plan: { ...view.plan, outline },
  };
}

const parts = bodySolid(viewOf(sketch, "right"), sketch);
const of = (kind: SolidPart["kind"]) => parts.filter((part) => part.kind === kind);
const zs = ({ positions }: SolidPart) => [...positions].filter((_, i) => i % 3 === 2);

describe("bodySolid", () => {
  it("names no vertex that is not there and no place that is not a number", () => {
    for (const { kind, positions, triangles, lines, top, back } of parts) {
      const count = positions.length / 3;
      expect(Math.max(...triangles), kind).toBeLessThan(count);
      for (const index of lines) expect(index, kind).toBeLessThan(count);
      expect(positions.every(Number.isFinite), kind).toBe(true);
      for (const carriers of [top, back])
        if (carriers !== null) expect(carriers.nodes.length).toBe(3 * count);
    }
  });

  it("is as deep on the centreline's ends as the document says between the inner faces", () => {
    const { top, back } = boxHeights(sketch);
    const walls = (sketch.top.meanThickness + sketch.back.meanThickness) / 2;
    expect(top(0, 0) - back(0, 0) - walls).toBeCloseTo(sketch.sides.depthAtTail, 9);
    expect(top(sketch.length, 0) - back(sketch.length, 0) - walls).toBeCloseTo(sketch.sides.depthAtNeck, 9);
  });

  it("closes the box: the sides begin at the top's edge and end at the back's", () => {
    const [sides] = of("sides");
    const { top, back } = boxHeights(sketch);
    const n = sketch.outline.length / 2;
    for (const i of [0, 17, n - 1]) {
      const [x, y] = [sketch.outline[2 * i]!, sketch.outline[2 * i + 1]!];
      expect(sides!.positions[3 * i + 2]).toBeCloseTo(top(x, y), 6);
      expect(sides!.positions[3 * (4 * n + i) + 2]).toBeCloseTo(back(x, y), 6);
    }
  });

  it("hangs the top's braces inside, under the plate, each as deep as its profile", () => {
    const braces = of("top brace");
    expect(braces).toHaveLength(sketch.top.braces.flatMap((b) => b.pieces).length);
    const lowest = Math.min(...braces.flatMap(zs));
    const deepest = Math.max(...sketch.top.braces.map((b) => b.height));
    expect(lowest).toBeLessThan(-0.6 * deepest);
    const { top, topThickness } = boxHeights(sketch);
    for (const { positions } of braces)
      for (let i = 0; i < positions.length; i += 3)
        expect(positions[i + 2]).toBeLessThan(
          top(positions[i]!, positions[i + 1]!) - topThickness / 2 + 1e-6,
        );
  });

  it("stands the bridge on the outside of the top", () => {
    const { top } = boxHeights(sketch);
    const [bridge] = of("bridge");
    const [x, y, z] = bridge!.positions;
    expect(z!).toBeGreaterThan(top(x!, y!));
  });

  it("moves the top up and the back down when they swing outward", () => {
    expect(of("top")[0]!.top).not.toBeNull();
    expect(of("back")[0]!.back).not.toBeNull();
    expect(of("back")[0]!.top).toBeNull();
  });

  it("draws a left-handed guitar as the mirror image of its twin", () => {
    const mirrored = bodySolid(
      viewOf(exampleSketch("low-radial", "left"), "left"),
      exampleSketch("low-radial", "left"),
    );
    const brace = of("top brace")[3]!;
    const twin = mirrored.filter((part) => part.kind === "top brace")[3]!;
    const mean = (part: SolidPart, k: number) =>
      [...part.positions].filter((_, i) => i % 3 === k).reduce((a, b) => a + b, 0) /
      (part.positions.length / 3);
    expect(mean(twin, 0)).toBeCloseTo(mean(brace, 0), 6);
    expect(mean(twin, 1)).toBeCloseTo(-mean(brace, 1), 6);
    expect(mean(twin, 2)).toBeCloseTo(mean(brace, 2), 6);
  });
});

describe("heightAt", () => {
  it("runs straight between the points of a profile and holds beyond its ends", () => {
    const profile = Float64Array.of(0, 2, 10, 8, 20, 4);
    expect([-1, 5, 10, 15, 30].map((s) => heightAt(profile, s))).toEqual([2, 5, 8, 6, 4]);
  });
});
