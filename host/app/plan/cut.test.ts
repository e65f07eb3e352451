import { describe, expect, it } from "vitest";
import { polygonArea } from "#engine/geometry";
import { cutBody, difference, heightAlong, heights, sectionShare, stretches } from "./cut.ts";
import { sketchOf } from "./sketchOf.fixture.ts";
import { withWeight } from "./withWeight.ts";

const square = Float64Array.of(0, 0, 4, 0, 4, 4, 0, 4);
const window = Float64Array.of(1, 1, 2, 1, 2, 3, 1, 3);

describe("stretches of a line", () => {
  it("lie inside the outline and outside the hole", () => {
    const found = stretches({ at: [-1, 2], along: [1, 0] }, square, [window]);
    expect(found.flat()).toEqual([1, 2, 3, 5].map((u) => expect.closeTo(u, 12)));
  });

  it("are left over where others are taken out", () => {
    expect(
      difference(
        [[0, 10]],
        [
          [2, 3],
          [9, 12],
        ],
      ),
    ).toEqual([
      [0, 2],
      [3, 9],
    ]);
  });
});

describe("the cut body", () => {
  const sketch = sketchOf("cross-braced");

  it("is as deep on the centreline's ends as the document states", () => {
    const over = heights(sketch);
    for (const [x, stated] of [
      [0, sketch.sides.depthAtTail],
      [sketch.length, sketch.sides.depthAtNeck],
    ] as const) {
      const inner = over.top([x, 0]) - sketch.top.meanThickness / 2;
      expect(inner - over.back([x, 0])).toBeCloseTo(stated, 9);
    }
  });

  it("cuts the top as thick as it is, and nothing where the hole is", () => {
    const x = sketch.shape.hole.kind === "ellipse" ? sketch.shape.hole.centre[0] : 0;
    const cut = cutBody(sketch, { at: [x, 0], along: [0, 1] });
    expect(cut.top).toHaveLength(2);
    const wide = cut.top.reduce(
      (sum, s) =>
        sum + Math.max(...s.filter((_, i) => i % 2 === 0)) - Math.min(...s.filter((_, i) => i % 2 === 0)),
      0,
    );
    const area = cut.top.reduce((sum, s) => sum + Math.abs(polygonArea(s)), 0);
    expect(area / wide).toBeCloseTo(sketch.top.meanThickness, 9);
  });

  it("cuts a bar square across with the area of its section (closed form: walls and two thirds of the rest for an arch)", () => {
    const bar = sketch.back.braces.find(
      ({ from, to, section }) => Math.abs(from[0] - to[0]) < 1e-9 && section.kind === "parabolic",
    )!;
    const cut = cutBody(sketch, { at: [0, 0], along: [1, 0] });
    const found = cut.braces.find(({ brace }) => brace.path === bar.path)!;
    const { wall } = bar.section as { readonly wall: number };
    const height = heightAlong(bar.heights, Math.abs(bar.from[1]));
    const expected = bar.width * height * (wall + ((1 - wall) * 2) / 3);
    // the back slopes a little under the bar
    expect(Math.abs(polygonArea(found.shape)) / expected).toBeCloseTo(1, 1);
    expect(found.height).toBeCloseTo(height, 4);
  });

  it("knows how high each shape of section is across the glue face", () => {
    expect(sectionShare({ kind: "rectangular" }, 0.9)).toBe(1);
    expect(sectionShare({ kind: "triangular", wall: 0.4 }, 0.5)).toBeCloseTo(0.7, 12);
    expect(sectionShare({ kind: "parabolic", wall: 0 }, 0.5)).toBeCloseTo(0.75, 12);
    expect(sectionShare({ kind: "parabolic", wall: 0.3 }, 1)).toBeCloseTo(0.3, 12);
  });
});

describe("one weight more", () => {
  it("lies on the curve half way along the longest stretch, in its order", () => {
    const curve = Float64Array.from({ length: 720 }, (_, i) => {
      const a = (2 * Math.PI * Math.floor(i / 2)) / 360;
      return i % 2 === 0 ? Math.cos(a) : Math.sin(a);
    });
    const at = (deg: number) => ({
      at: [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)] as const,
      heading: null,
      held: false,
    });
    const weights = withWeight([at(0), at(60), at(200), at(300)], curve);
    expect(weights).toHaveLength(5);
    expect(Math.atan2(weights[2]!.at[1], weights[2]!.at[0])).toBeCloseTo((130 * Math.PI) / 180, 6);
  });
});
