import { describe, expect, it } from "vitest";
import { layBatten, shapedOutline } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { boxHandles, cutHandles } from "./boxHandles.ts";
import { braceHandles } from "./braceHandles.ts";
import { dragCause, entryCause } from "./cause.ts";
import { cutBody } from "./cut.ts";
import { draftedSketch } from "./drafted.ts";
import { cutawayHandles, ellipseHandles } from "./holeHandles.ts";
import { liveChange } from "./liveChange.ts";
import { battenHandles, dimensionHandles } from "./outlineHandles.ts";
import { profileHandles } from "./profileHandles.ts";
import { typedChanges } from "./settings.ts";
import { sketchOf } from "./sketchOf.fixture.ts";

const sketch = sketchOf("low-radial");
const ray = sketch.top.braces[4]!;
const [hubEnd, bassEnd, whole] = braceHandles(ray, sketch.top);

describe("handles of a brace", () => {
  it("are called by what they are at the bench", () => {
    expect(hubEnd!.name).toBe("ray 5, bass bout, hub end");
    expect(bassEnd!.name).toBe("ray 5, bass bout, bass end");
  });

  it("set the end that is moved and nothing else, typed as a maker would", () => {
    const to = [bassEnd!.at[0] - 0.004, bassEnd!.at[1]] as const;
    const settings = bassEnd!.moved(to, false);
    expect(typedChanges(settings, "metric")).toEqual([
      { path: "top.braces[4].to", value: ["107.2 mm", "237.5 mm"] },
    ]);
    expect(dragCause(bassEnd!, to, settings, "metric")).toBe(
      "ray 5, bass bout, bass end: 4 mm towards the tail",
    );
  });

  it("move the whole brace without turning it", () => {
    const settings = whole!.moved([whole!.at[0] + 0.003, whole!.at[1] - 0.002], false);
    expect(typedChanges(settings, "metric")).toEqual([
      { path: "top.braces[4].from", value: ["208.2 mm", "42.5 mm"] },
      { path: "top.braces[4].to", value: ["114.2 mm", "235.5 mm"] },
    ]);
  });

  it("take a length or an angle about the other end, which stays", () => {
    const angle = bassEnd!.entries.find(({ label }) => label.startsWith("angle"))!;
    const [set] = angle.set(Math.PI / 2, false);
    if (set?.kind !== "place") throw new Error("a place was to be set");
    expect(set.value[0]).toBeCloseTo(ray.from[0], 9);
    const length = bassEnd!.entries.find(({ label }) => label === "length")!;
    expect(set.value[1] - ray.from[1]).toBeCloseTo(length.value, 9);
    expect(entryCause(bassEnd!, length, 0.2, "metric")).toMatch(/length 214\.\d mm to 200\.0 mm$/);
  });

  it("tell the voice a move, and a height by its factor, as far as its model can follow", () => {
    const settings = bassEnd!.moved([0.1, 0.24], false);
    expect(liveChange(sketch, settings, ["top.braces[4]"])).toEqual([
      { brace: "top.braces[4]", from: ray.from, to: [0.1, 0.24], inset: 0 },
    ]);
    expect(liveChange(sketch, settings, [])).toEqual([]);
    const height = profileHandles(ray).find(({ id }) => id.endsWith("].height"))!;
    const [factor] = liveChange(sketch, height.moved([0, ray.height * 1.25], false), [
      "top.braces[4].height",
    ]);
    expect(factor).toEqual({ parameter: "top.braces[4].height", factor: 1.25 });
  });
});

describe("handles in the strip of a brace seen from its side", () => {
  it.each(["low-radial", "cross-braced", "small-ladder"])("lie apart on every brace of %s", (example) => {
    const { top, back } = sketchOf(example);
    for (const brace of [...top.braces, ...back.braces]) {
      const handles = profileHandles(brace);
      for (const [i, a] of handles.entries())
        for (const b of handles.slice(0, i)) {
          // as the strip shows them: some 600 px long, higher than it is by a factor
          const apart = Math.max(Math.abs(a.at[0] - b.at[0]) / 0.004, Math.abs(a.at[1] - b.at[1]) / 0.002);
          expect(apart, `${a.name} and ${b.name}`).toBeGreaterThan(1);
        }
    }
  });

  it("has the one of the full height in the middle of the longest stretch that is so high", () => {
    const [s, h] = profileHandles(ray).find(({ id }) => id.endsWith("].height"))!.at;
    const { tipLength } = ray.profile as { tipLength: readonly [number, number] };
    const long = ray.onPlate[1] - ray.onPlate[0];
    expect(h).toBe(ray.height);
    expect(s).toBeCloseTo((tipLength[0] + long - tipLength[1]) / 2, 3);
  });
});

describe("the sketch under the hand", () => {
  it("cuts a moved brace at the edge anew and leaves every other part the very same object", () => {
    const drawn = draftedSketch(sketch, bassEnd!.moved([0.02, 0.3], false), null);
    const moved = drawn.top.braces[4]!;
    expect(moved.to).toEqual([0.02, 0.3]);
    const edge = moved.pieces[0]!.path;
    expect(Math.hypot(edge[2]! - moved.to[0], edge[3]! - moved.to[1])).toBeGreaterThan(0.03);
    expect(drawn.top.braces[3]).toBe(sketch.top.braces[3]);
    expect(drawn.back).toBe(sketch.back);
    expect(drawn.outline).toBe(sketch.outline);
  });

  it("is the engine's own once the document says the same", () => {
    const profile = profileHandles(ray).find(({ id }) => id.endsWith("].height"))!;
    const drawn = draftedSketch(sketch, profile.moved([0, 0.009], false), null);
    const heights = drawn.top.braces[4]!.heights;
    expect(Math.max(...heights.filter((_, i) => i % 2 === 1))).toBeCloseTo(0.009, 9);
  });

  it("keeps the box as deep at its ends as stated while a dome is changed", () => {
    const dome = boxHandles(sketch).find(({ id }) => id === "back.dome.radius")!;
    const drawn = draftedSketch(sketch, dome.moved([dome.at[0], dome.at[1] - 0.004], false), null);
    expect(drawn.back.dome!.radius).toBeLessThan(sketch.back.dome!.radius);
    for (const x of [0.0005, sketch.length - 0.0005]) {
      const cut = cutBody(drawn, { at: [x, 0], along: [0, 1] });
      const under = cut.top[0]!;
      const depth = (shape: Float64Array, pick: (...z: number[]) => number): number => {
        const middle = shape.filter((_, i) => i % 2 === 1 && Math.abs(shape[i - 1]!) < 0.003);
        return pick(...middle);
      };
      const between = depth(under, Math.min) - depth(cut.back[0]!, Math.max);
      expect(between).toBeCloseTo(x < 0.1 ? sketch.sides.depthAtTail : sketch.sides.depthAtNeck, 3);
    }
  });
});

describe("weights of an outline", () => {
  const { outline } = sketch.shape;
  if (outline.kind !== "dimensions") throw new Error("the example states dimensions");
  const waist = dimensionHandles(outline).find(({ id }) => id === "outline.waist.bass")!;

  it("move both sides together: the width by twice the hand's way", () => {
    const to = [waist.at[0] + 0.002, waist.at[1] - 0.003] as const;
    expect(typedChanges(waist.moved(to, false), "metric")).toEqual([
      { path: "outline.waist.station", value: "318 mm" },
      { path: "outline.waist.width", value: "256 mm" },
    ]);
  });

  it("move one side alone by its departure from the other", () => {
    expect(typedChanges(waist.moved([waist.at[0], waist.at[1] - 0.003], true), "metric")).toEqual([
      { path: "outline.asymmetry.bass.waist.outward", value: "-3 mm" },
    ]);
  });

  it("of a batten move their partner on the other side, unless one side alone is meant; the tail stays", () => {
    const shaped = opened(shapedOutline(outline, null));
    const { weights } = opened(layBatten(shaped.plan.fullOutline, shaped.plan.length, 1e-4));
    const handles = battenHandles("outline", weights);
    expect(handles[0]!.free).toEqual([false, false]);
    const bass = handles.find(({ at }) => at[1] > 0.1 && at[0] > 0.3 && at[0] < 0.33)!;
    const both = bass.moved([bass.at[0], bass.at[1] + 0.005], false)[0];
    const alone = bass.moved([bass.at[0], bass.at[1] + 0.005], true)[0];
    if (both?.kind !== "weights" || alone?.kind !== "weights") throw new Error("weights were to be set");
    const changed = (value: typeof weights): number =>
      value.filter((w, i) => w.at[1] !== weights[i]!.at[1]).length;
    expect(changed(both.value)).toBe(2);
    expect(changed(alone.value)).toBe(1);
  });
});

describe("handles of hole, cutaway and box", () => {
  it("an ellipse's axes, centre and turn set what they say", () => {
    const { hole } = sketch.shape;
    if (hole.kind !== "ellipse") throw new Error("the example has an ellipse");
    const [centre, first, , turn] = ellipseHandles(hole);
    expect(typedChanges(centre!.moved([0.4, 0.09], false), "metric")).toEqual([
      { path: "soundHole.centre", value: ["400 mm", "90 mm"] },
    ]);
    const out = [
      hole.centre[0] + 0.06 * Math.cos(hole.angle),
      hole.centre[1] + 0.06 * Math.sin(hole.angle),
    ] as const;
    expect(typedChanges(first!.moved(out, false), "metric")).toEqual([
      { path: "soundHole.semiAxes[0]", value: "60 mm" },
    ]);
    const [turned] = turn!.moved([hole.centre[0] + 1, hole.centre[1]], false);
    expect(turned).toEqual({ path: "soundHole.angle", kind: "angle", value: 0 });
  });

  it("the cutaway's foremost and deepest places lie where the document puts them", () => {
    const { cutaway } = sketch.shape;
    const handles = cutawayHandles(cutaway!, sketch.cutaway!, sketch.length);
    const at = (id: string): number => sketch.length - handles.find((h) => h.id === id)!.at[0];
    expect(at("cutaway.depth")).toBeCloseTo(cutaway!.depth, 3);
    expect(at("cutaway.tipSetback")).toBeCloseTo(cutaway!.tipSetback, 3);
  });

  it("raise a brace in the section by the share its crest was raised there", () => {
    const cut = cutBody(sketch, { at: [0.17, 0], along: [0, 1] });
    const handle = cutHandles(cut, "top").find(({ owner }) => owner === ray.path)!;
    const there = cut.braces.find(({ brace }) => brace.path === ray.path)!;
    const [set] = handle.moved([handle.at[0], handle.at[1] - 0.1 * there.height], false);
    expect(set?.kind === "length" ? set.value / ray.height : 0).toBeCloseTo(1.1, 9);
  });
});
