import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { box, ellipse, opening } from "./cavity.fixture.ts";
import { cavityModes } from "./cavityModes.ts";
import { stoppedFlow, withOuterEnd } from "./outerEnd.ts";

const cavity = opened(cavityModes({ ...box, hole: opening(ellipse(0.3, 0.2, 0.05, 0.05)) }, quiet));

/** The cavity's own wall for the body's outside, the opening's triangles told apart. */
const surface = cavity.wall;

function areas(): Float64Array {
  const { nodes, triangles } = surface;
  return Float64Array.from({ length: triangles.length / 3 }, (_, t) => {
    const [a, b, c] = [0, 1, 2].map((k) =>
      nodes.subarray(3 * triangles[3 * t + k], 3 * triangles[3 * t + k] + 3),
    );
    const [u, v] = [b, c].map((p) => [p[0] - a[0], p[1] - a[1], p[2] - a[2]]);
    return Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
  });
}

describe("the outer end", () => {
  it("stops on sides and back all that the first pattern sends into the half space behind, and nothing on the top", () => {
    const stopped = stoppedFlow(cavity.aperture!, surface);
    const size = areas();
    const byPart = [0, 0, 0, 0];
    size.forEach((a, t) => {
      byPart[surface.part[t]] += a * stopped[t];
    });
    expect(byPart[1] + byPart[2]).toBeCloseTo(-1, 3);
    expect(byPart[1]).toBeLessThan(-0.5);
    expect(byPart[0]).toBe(0);
    expect(byPart[3]).toBe(0);
  });

  it("adds the body's share to the flanged end, made symmetric, and narrows the range", () => {
    const { count, outer, inner, wall, range } = cavity.aperture!;
    const mass = new Float64Array(count * count);
    mass[0] = -0.1 * outer[0];
    mass[1] = 0.02;
    const changed = withOuterEnd(cavity, mass).aperture!;
    expect(changed.outer[0]).toBeCloseTo(0.9 * outer[0], 12);
    expect(changed.outer[1]).toBeCloseTo(outer[1] + 0.01, 12);
    expect(changed.outer[count]).toBeCloseTo(outer[count] + 0.01, 12);
    expect(changed.inertance[0]).toBeCloseTo(inner[0] + wall[0] + 0.9 * outer[0], 12);
    expect(changed.range.high[0] - changed.range.low[0]).toBeLessThan(range.high[0] - range.low[0]);
  });
});
