import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import type { Brace, BraceSection, HeightProfile } from "./brace.ts";
import { braceHeight, braceHeights } from "./braceHeights.ts";
import { clipBrace } from "./clipBrace.ts";
import { equivalentRectangle, sectionProperties } from "./section.ts";

const plate = {
  outline: Float64Array.of(0, 0, 0.4, 0, 0.4, 0.3, 0, 0.3),
  holes: [Float64Array.of(0.1, 0.1, 0.2, 0.1, 0.2, 0.2, 0.1, 0.2)],
};
const bar: Pick<Brace, "width" | "height" | "section"> = {
  width: 0.008,
  height: 0.014,
  section: { kind: "rectangular" },
};

/** Section properties by slicing at 20,000 heights; written apart from the closed forms. */
function sliced(section: BraceSection, width: number, height: number) {
  const slices = 20000;
  let area = 0;
  let first = 0;
  let second = 0;
  for (let i = 0; i < slices; i++) {
    const z = ((i + 0.5) / slices) * height;
    const wall = section.kind === "rectangular" ? height : section.wall * height;
    const t = z <= wall ? 0 : (z - wall) / (height - wall);
    const across = width * (t === 0 ? 1 : section.kind === "triangular" ? 1 - t : Math.sqrt(1 - t));
    const strip = (across * height) / slices;
    area += strip;
    first += strip * z;
    second += strip * z * z;
  }
  return { area, centroid: first / area, inertia: second - first ** 2 / area, inertiaAtGlue: second };
}

describe("a brace's section", () => {
  it("has the closed-form area, centroid and inertia that slicing gives", () => {
    const sections: BraceSection[] = [
      { kind: "rectangular" },
      ...[0, 0.4, 1].flatMap((wall): BraceSection[] => [
        { kind: "triangular", wall },
        { kind: "parabolic", wall },
      ]),
    ];
    for (const section of sections) {
      const closed = sectionProperties(section, 0.008, 0.015);
      const numeric = sliced(section, 0.008, 0.015);
      for (const key of ["area", "centroid", "inertia", "inertiaAtGlue"] as const) {
        expect(Math.abs(closed[key] / numeric[key] - 1)).toBeLessThan(1e-5);
      }
    }
  });

  it("is stood for by a rectangle of the same area and the same inertia about the glue face", () => {
    for (const section of [
      { kind: "triangular", wall: 0 },
      { kind: "parabolic", wall: 0.5 },
    ] as const) {
      const shares = equivalentRectangle(section);
      const true_ = sectionProperties(section, 0.008, 0.015);
      const stand = sectionProperties({ kind: "rectangular" }, 0.008 * shares.width, 0.015 * shares.height);
      expect(stand.area).toBeCloseTo(true_.area, 15);
      expect(stand.inertiaAtGlue / true_.inertiaAtGlue).toBeCloseTo(1, 12);
      expect(stand.centroid / true_.centroid).toBeLessThan(1.065);
    }
  });
});

describe("a brace's height", () => {
  const tapered: HeightProfile = { kind: "tapered", tipHeight: [0.002, 0.003], tipLength: [0.05, 0.06] };
  const scalloped: HeightProfile = {
    ...tapered,
    kind: "scalloped",
    valleyAt: 0.15,
    valleyHeight: 0.006,
    valleyLength: 0.12,
  };

  it("is the tip's at the ends, full between them, and half way up in the middle of the scoop", () => {
    const at = (s: number): number => braceHeight(tapered, 0.014, 0.3, s);
    expect(at(0)).toBeCloseTo(0.002, 15);
    expect(at(0.025)).toBeCloseTo(0.008, 15);
    expect(at(0.1)).toBe(0.014);
    expect(at(0.3)).toBeCloseTo(0.003, 15);
  });

  it("dips to the valley of a scalloped brace and is full on the peaks beside it", () => {
    const at = (s: number): number => braceHeight(scalloped, 0.014, 0.3, s);
    expect(at(0.15)).toBeCloseTo(0.006, 15);
    expect(at(0.12)).toBeCloseTo(0.01, 15);
    expect(at(0.085)).toBe(0.014);
    expect(at(0)).toBeCloseTo(0.002, 15);
  });

  it("runs straight between given points and level beyond them", () => {
    const profile: HeightProfile = {
      kind: "points",
      heights: [
        [0.1, 0.01],
        [0.2, 0.006],
      ],
    };
    expect(braceHeight(profile, 0.014, 0.3, 0)).toBe(0.01);
    expect(braceHeight(profile, 0.014, 0.3, 0.15)).toBeCloseTo(0.008, 15);
    expect(braceHeight(profile, 0.014, 0.3, 0.3)).toBe(0.006);
  });

  it("is listed from end to end with the profile's corners kept, and straight lines between rows stay close", () => {
    for (const profile of [{ kind: "uniform" }, tapered, scalloped] as const) {
      const rows = opened(braceHeights({ ...bar, profile }, 0.3));
      expect(rows[0][0]).toBe(0);
      expect(rows[rows.length - 1][0]).toBe(0.3);
      for (let i = 1; i < rows.length; i++) {
        expect(rows[i][0]).toBeGreaterThan(rows[i - 1][0]);
        const middle = (rows[i][0] + rows[i - 1][0]) / 2;
        const straight = (rows[i][1] + rows[i - 1][1]) / 2;
        expect(Math.abs(straight - braceHeight(profile, 0.014, 0.3, middle))).toBeLessThan(1.5e-4);
      }
    }
    const stations = opened(braceHeights({ ...bar, profile: scalloped }, 0.3)).map((row) => row[0]);
    for (const corner of [0.05, 0.24, 0.09, 0.15, 0.21]) {
      expect(Math.min(...stations.map((s) => Math.abs(s - corner)))).toBeLessThan(1e-12);
    }
  });

  it("is refused where tips are higher than the brace, the valley lies off it, or figures are not sizes", () => {
    const reason = (change: Partial<Brace>, length = 0.3): string => {
      const made = braceHeights({ ...bar, profile: tapered, ...change }, length);
      return made.ok ? "ok" : made.reason;
    };
    expect(reason({ height: 0.001 })).toBe("brace-size");
    expect(reason({ width: -0.008 })).toBe("brace-size");
    expect(reason({ profile: scalloped }, 0.12)).toBe("brace-size");
    expect(reason({ profile: { kind: "points", heights: [] } })).toBe("brace-size");
    expect(
      reason({
        profile: {
          kind: "points",
          heights: [
            [0.1, 0.01],
            [0.1, 0.01],
          ],
        },
      }),
    ).toBe("brace-size");
    expect(reason({ section: { kind: "triangular", wall: 2 } })).toBe("brace-size");
    expect(reason({})).toBe("ok");
  });
});

describe("a brace on the plate", () => {
  it("is cut by the edge and by the hole, and drawn back where it is cut", () => {
    const pieces = opened(clipBrace(plate, { from: [-0.1, 0.15], to: [0.3, 0.15], inset: 0.002 }));
    expect(pieces).toHaveLength(2);
    expect(pieces[0].from[0]).toBeCloseTo(0.002, 14);
    expect(pieces[0].to[0]).toBeCloseTo(0.098, 14);
    expect(pieces[0].clipped).toEqual([true, true]);
    expect(pieces[1].from[0]).toBeCloseTo(0.202, 14);
    expect(pieces[1].to[0]).toBeCloseTo(0.3, 14);
    expect(pieces[1].clipped).toEqual([true, false]);
    expect(pieces[1].start).toBeCloseTo(0.302, 14);
  });

  it("is refused, with its ends, when it lies outside", () => {
    const made = clipBrace(plate, { from: [0.5, 0.1], to: [0.9, 0.2], inset: 0 });
    expect(made.ok).toBe(false);
    if (made.ok) return;
    expect(made.reason).toBe("brace-outside");
    expect(made.detail).toContain("(0.5000, 0.1000) to (0.9000, 0.2000) m");
    const inHole = clipBrace(plate, { from: [0.11, 0.15], to: [0.19, 0.15], inset: 0 });
    expect(inHole.ok ? "ok" : inHole.reason).toBe("brace-outside");
    const point = clipBrace(plate, { from: [0.3, 0.1], to: [0.3, 0.1], inset: 0 });
    expect(point.ok ? "ok" : point.reason).toBe("brace-size");
  });
});
