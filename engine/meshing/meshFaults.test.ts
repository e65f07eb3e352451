import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { meshFaults, meshPlan, type PlanMesh } from "./index.ts";
import { body, mapped } from "./regions.fixture.ts";

describe("meshFaults", () => {
  const mesh = opened(meshPlan(body, { size: 0.01 }));
  const codes = (m: PlanMesh, region = body) => new Set(meshFaults(m, region).map((f) => f.code));

  it("notices a flipped and a missing triangle, a moved rim node, a broken line and a stray index", () => {
    const flipped = mesh.triangles.slice();
    [flipped[0], flipped[1]] = [flipped[1], flipped[0]];
    expect(codes({ ...mesh, triangles: flipped })).toContain("flipped");
    expect(codes({ ...mesh, triangles: mesh.triangles.slice(3) })).toContain("not-conforming");
    const moved = mesh.nodes.slice();
    moved[2 * mesh.boundary[0][10]] *= 0.99;
    expect(codes({ ...mesh, nodes: moved })).toContain("boundary");
    const broken = mesh.lines.map((line, l) => (l === 0 ? line.filter((_, i) => i !== 3) : line));
    expect(codes({ ...mesh, lines: broken })).toContain("line");
    expect(codes({ ...mesh, lines: [mesh.lines[1], mesh.lines[0], ...mesh.lines.slice(2)] })).toContain(
      "line",
    );
    expect(codes({ ...mesh, triangles: mesh.triangles.map((p) => p + 5) })).toContain("bad-index");
    expect(codes({ ...mesh, nodes: Float64Array.of(...mesh.nodes, 0, 0) })).toContain("unused-node");
  });

  it("notices an area that is not the region's", () => {
    const smaller = mapped(body, (x, y) => [0.97 * x, y]);
    expect(codes(mesh, { ...body, outline: smaller.outline })).toContain("area");
  });
});
