import { expect, it } from "vitest";
import { geometricBeam } from "./geometricBeam.ts";

it("a slender beam along x has the textbook's geometric stiffness, N/(30 L) [36, 3L, -36, 3L; 4L2, -3L, -L2; ...]", () => {
  const L = 0.3;
  const N = -700;
  const k = geometricBeam([0, 0, 0], [L, 0, 0], N, 0, 0);
  const f = N / (30 * L);
  const at = (i: number, j: number): number => k[12 * i + j] / f;
  // deflection z with rotation y: slope dz/dx = -ry
  for (const [i, j, value] of [
    [2, 2, 36],
    [2, 8, -36],
    [4, 4, 4 * L * L],
    [4, 10, -L * L],
    [2, 4, -3 * L],
    [2, 10, -3 * L],
    [8, 4, 3 * L],
    [1, 5, 3 * L],
    [1, 7, -36],
    [7, 11, -3 * L],
    [0, 0, 30],
    [0, 6, -30],
    [3, 3, 0],
  ] as const)
    expect(at(i, j)).toBeCloseTo(value, 9);
});

it("turns as a whole for N L, with shear or without, in any direction", () => {
  const to = [0.1, -0.2, 0.05];
  const L = Math.hypot(...to);
  for (const phi of [0, 0.7]) {
    const k = geometricBeam([0, 0, 0], to, 500, phi, 2 * phi);
    const e = [0.2, 0.1, 0]; // square to the beam
    const u = [0, 1].flatMap((end) => {
      const r = to.map((v) => end * v);
      return [e[1] * r[2] - e[2] * r[1], e[2] * r[0] - e[0] * r[2], e[0] * r[1] - e[1] * r[0], ...e];
    });
    let sum = 0;
    for (let i = 0; i < 12; i++) for (let j = 0; j < 12; j++) sum += u[i] * k[12 * i + j] * u[j];
    expect(sum / (500 * L * (e[0] ** 2 + e[1] ** 2))).toBeCloseTo(1, 10);
  }
});
