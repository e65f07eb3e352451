import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { polygonArea } from "#engine/geometry";
import { checkInstrument } from "#engine/instrument";
import { instrumentSketch } from "./instrumentSketch.ts";

function sketchOf(example: string, change: (document: Record<string, unknown>) => void = () => {}) {
  const document = JSON.parse(readFileSync(`examples/${example}.fairbout.json`, "utf8"));
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(JSON.stringify(checked.issues));
  const sketch = instrumentSketch(checked);
  if (!sketch.ok) throw new Error(sketch.detail);
  return sketch.value;
}

describe("instrumentSketch", () => {
  const sketch = sketchOf("low-radial");

  it("keeps the ends of a brace as the document states them, in metres", () => {
    const ray = sketch.top.braces[2]!;
    expect(ray.path).toBe("top.braces[2]");
    expect(ray.from[0]).toBeCloseTo(0.2495, 12);
    expect(ray.to[1]).toBeCloseTo(0.2181, 12);
  });

  it("cuts a brace at the edge: what is on the plate is shorter than what is stated, and starts where it says", () => {
    const ray = sketch.top.braces[6]!;
    const [start, end] = ray.onPlate;
    const stated = Math.hypot(ray.to[0] - ray.from[0], ray.to[1] - ray.from[1]);
    expect(start).toBe(0);
    expect(end).toBeLessThan(stated - 0.03);
    const path = ray.pieces[0]!.path;
    expect(Math.hypot(path[2]! - path[0]!, path[3]! - path[1]!)).toBeCloseTo(end - start, 9);
  });

  it("gives the outline as cut and before its cutaway, the cut one smaller", () => {
    expect(sketch.cutaway?.side).toBe("treble");
    expect(polygonArea(sketch.outline)).toBeLessThan(polygonArea(sketch.fullOutline) - 0.002);
    expect(sketch.areas.plan).toBeCloseTo(polygonArea(sketch.outline), 4);
  });

  it("sets the strings from saddle to nut with the document's scale between them in plan", () => {
    const low = sketch.strings.at(-1)!;
    const board = sketch.board.strings.at(-1)!;
    expect(Math.hypot(low.nut[0] - low.crown[0], low.nut[1] - low.crown[1])).toBeCloseTo(
      board.scaleLength,
      9,
    );
  });

  it("lays a left-handed instrument out like its right-handed twin and says so", () => {
    const left = sketchOf("low-radial", (document) => {
      document.hand = "left";
    });
    expect(left.hand).toBe("left");
    expect(left.top.braces[2]!.from).toEqual(sketch.top.braces[2]!.from);
    expect(left.outline).toEqual(sketch.outline);
  });

  it("is plain data that survives the way through a worker", () => {
    expect(structuredClone(sketch)).toEqual(sketch);
  });
});
