import { describe, expect, it } from "vitest";
import { backPlate } from "./body.fixture.ts";
import { backFrame, outwardMotion } from "./bodyFrames.ts";
import { supportedPlateModes } from "./supportedPlate.fixture.ts";

describe("backFrame", () => {
  it("gives the back the outward motion that the rigid body has there, tilted seat included", () => {
    const seat = { depth: 0.11, slope: -0.05 };
    const p = Math.atan(seat.slope);
    const body = [0.3, -0.2, 0.5, 1.1, -0.7, 0.4];
    const t = backFrame(seat);
    const own = Array.from({ length: 6 }, (_, i) => body.reduce((sum, b, j) => sum + t[6 * i + j] * b, 0));
    for (const [x, y] of [
      [0, 0],
      [0.4, 0.1],
      [0.2, -0.15],
    ]) {
      // The point of the back's plane in the body frame, and the body's motion there, along the outward normal.
      const [X, Z] = [x * Math.cos(p), -seat.depth - x * Math.sin(p)];
      const [U, V, W, A, B, C] = body;
      const motion = [U + B * Z - C * y, V + C * X - A * Z, W + A * y - B * X];
      const outward = -Math.sin(p) * motion[0] - Math.cos(p) * motion[2];
      expect(own[2] + own[3] * y - own[4] * x).toBeCloseTo(outward, 12);
      // And along its x axis.
      expect(own[0] - own[5] * y).toBeCloseTo(Math.cos(p) * motion[0] - Math.sin(p) * motion[2], 12);
    }
  });
});

describe("outwardMotion", () => {
  it("lists the modes, then heave and the two tilts", () => {
    const plate = supportedPlateModes({ ...backPlate, count: 2, cells: [4, 4] });
    const motion = outwardMotion(plate);
    const n = plate.nodeArea.length;
    expect(motion.length).toBe(8 * n);
    expect(motion[12]).toBe(plate.shapes[12 * 6 + 2]);
    expect(motion[4 * n + 7]).toBe(1);
    expect(motion[5 * n + 7]).toBe(plate.mesh.nodes[22]);
    expect(motion[6 * n + 7]).toBe(-plate.mesh.nodes[21]);
  });
});
