import { describe, expect, it } from "vitest";
import { polygonArea } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { guitarBody } from "./body.fixture.ts";
import { bodyFaults } from "./bodyFaults.ts";
import { bodyMesh } from "./bodyMesh.ts";
import type { SidesSpec } from "./bodySpec.ts";
import { depthMid } from "./plateMesh.ts";
import { sideLine } from "./plateSeat.ts";

const coarse = { top: 0.014, back: 0.014, side: 0.014 };

describe("mesh of the whole body", () => {
  it.each([
    ["a hole inside the top", {}],
    ["a hole that breaks the edge", { holeAtEdge: true }],
  ])("is closed, oriented outwards and open at one rim only: %s", (_, o) => {
    const mesh = opened(bodyMesh(guitarBody(o), coarse));
    expect(bodyFaults(mesh, 1)).toEqual([]);
  });

  it("keeps the areas of plates and side", () => {
    const spec = guitarBody();
    const mesh = opened(bodyMesh(spec, { top: 0.01, back: 0.01, side: 0.01 }));
    const { nodes, triangles, part } = mesh.surface;
    const area = [0, 0, 0];
    for (let e = 0; e < part.length; e++) {
      const [a, b, c] = [0, 1, 2].map((k) => triangles[3 * e + k]);
      const u = [0, 1, 2].map((q) => nodes[3 * b + q] - nodes[3 * a + q]);
      const v = [0, 1, 2].map((q) => nodes[3 * c + q] - nodes[3 * a + q]);
      area[part[e]] +=
        Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
    }
    const line = sideLine(spec.sides as SidesSpec);
    const plan = polygonArea(line);
    // spherical caps: true area is larger by the mean of r2 / (2 R2), under 0.1 %; chords of the outline are cut at 3 % of an edge
    expect(Math.abs(area[0] / (plan - Math.PI * 0.05 ** 2) - 1)).toBeLessThan(2e-3);
    expect(Math.abs(area[1] / plan - 1)).toBeLessThan(2e-3);
    let side = 0;
    for (let i = 0; i < line.length; i += 2) {
      const j = (i + 2) % line.length;
      side +=
        Math.hypot(line[j] - line[i], line[j + 1] - line[i + 1]) * depthMid(spec, (line[i] + line[j]) / 2);
    }
    expect(Math.abs(area[2] / side - 1)).toBeLessThan(3e-3);
  });

  it("tells a mesh with a flipped or a missing triangle", () => {
    const mesh = opened(bodyMesh(guitarBody(), coarse));
    const triangles = mesh.surface.triangles.slice();
    triangles.set([triangles[1], triangles[0]], 0);
    const flipped = { ...mesh, surface: { ...mesh.surface, triangles } };
    expect(bodyFaults(flipped, 1).map((f) => f.code)).toContain("orientation");
    const torn = {
      ...mesh.surface,
      triangles: mesh.surface.triangles.slice(3),
      part: mesh.surface.part.slice(1),
    };
    expect(bodyFaults({ ...mesh, surface: torn }, 1).map((f) => f.code)).toContain("rim");
  });
});
