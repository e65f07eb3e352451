import { expect, it } from "vitest";
import { triangleOverlap } from "./triangleOverlap.ts";

const triangle = Float64Array.of(0, 0, 2, 0, 0, 2);

it("gives the whole triangle inside a large polygon of either sense, with its centroid", () => {
  for (const box of [
    Float64Array.of(-9, -9, 9, -9, 9, 9, -9, 9),
    Float64Array.of(-9, 9, 9, 9, 9, -9, -9, -9),
  ]) {
    const [area, mx, my] = triangleOverlap(box, triangle);
    expect(area).toBeCloseTo(2, 12);
    expect(mx / area).toBeCloseTo(2 / 3, 12);
    expect(my / area).toBeCloseTo(2 / 3, 12);
  }
});

it("cuts a square corner: 0.5 x 0.5 inside, its centroid at 0.25", () => {
  const [area, mx] = triangleOverlap(Float64Array.of(-1, -1, 0.5, -1, 0.5, 0.5, -1, 0.5), triangle);
  expect(area).toBeCloseTo(0.25, 12);
  expect(mx / area).toBeCloseTo(0.25, 12);
});

it("handles a concave polygon: an L with 0.75 of unit area", () => {
  const l = Float64Array.of(0, 0, 1, 0, 1, 0.5, 0.5, 0.5, 0.5, 1, 0, 1);
  expect(triangleOverlap(l, triangle)[0]).toBeCloseTo(0.75, 12);
});

it("is nothing outside", () => {
  expect(triangleOverlap(Float64Array.of(3, 3, 4, 3, 4, 4), triangle)).toEqual([0, 0, 0]);
});
