import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { meshPlan, meshQuality, nodeAreas, planLocator } from "./index.ts";
import { body } from "./regions.fixture.ts";

describe("what is asked of a mesh", () => {
  const mesh = opened(meshPlan(body, { size: 0.01 }));

  it("finds the triangle of a point, and nothing outside or in the hole", () => {
    const at = planLocator(mesh);
    for (const [x, y] of [
      [-0.1, 0.05],
      [0.02, -0.03],
      [mesh.nodes[200], mesh.nodes[201]],
    ]) {
      const found = at(x, y)!;
      const [a, b, c] = found.barycentric;
      const corner = mesh.triangles.subarray(3 * found.triangle, 3 * found.triangle + 3);
      const back = [0, 1].map(
        (k) =>
          a * mesh.nodes[2 * corner[0] + k] +
          b * mesh.nodes[2 * corner[1] + k] +
          c * mesh.nodes[2 * corner[2] + k],
      );
      expect(Math.hypot(back[0] - x, back[1] - y)).toBeLessThan(1e-12);
    }
    expect(at(0.1, 0.01)).toBeNull();
    expect(at(0.3, 0)).toBeNull();
  });

  it("answers for a point just outside when a reach is given", () => {
    expect(planLocator(mesh)(-0.2405, 0)).toBeNull();
    expect(planLocator(mesh, 0.001)(-0.2405, 0)).not.toBeNull();
  });

  it("shares the whole area among the nodes", () => {
    const sum = nodeAreas(mesh).reduce((s, a) => s + a, 0);
    expect(Math.abs(sum / meshQuality(mesh).area - 1)).toBeLessThan(1e-12);
    expect(Math.min(...nodeAreas(mesh))).toBeGreaterThan(0);
  });
});
