import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Build, checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { drawnBoard, drawnMesh, drawnPlan } from "./drawnInstrument.ts";
import { instrumentGeometry } from "./geometry.ts";

function openedFor(hand: "right" | "left") {
  const text = readFileSync(new URL("../../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(JSON.stringify({ ...(JSON.parse(text) as object), hand }));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  return { build: checked.build, geometry: opened(instrumentGeometry(checked.build, checked.plan)) };
}

/** Twice the signed area, anticlockwise above zero. */
function turnOf(chain: Float64Array): number {
  let area = 0;
  for (let i = 0; i < chain.length; i += 2) {
    const j = (i + 2) % chain.length;
    area += chain[i]! * chain[j + 1]! - chain[j]! * chain[i + 1]!;
  }
  return area;
}

describe("a left-handed instrument as it is drawn", () => {
  const right = openedFor("right");
  const left = openedFor("left");
  const [plan, mirrored] = [drawnPlan(right.build, right.geometry), drawnPlan(left.build, left.geometry)];

  it("is the mirror image, every polygon still anticlockwise", () => {
    for (const part of ["outline", "hole", "bridge"] as const) {
      expect(turnOf(mirrored[part])).toBeCloseTo(turnOf(plan[part]), 12);
      expect(turnOf(mirrored[part])).toBeGreaterThan(0);
    }
    expect(mirrored.saddle[0][1]).toBeCloseTo(-plan.saddle[0][1], 14);
    expect(drawnBoard(left.build, left.geometry).bassEdge[1][1]).toBeCloseTo(
      -drawnBoard(right.build, right.geometry).bassEdge[1][1],
      14,
    );
  });

  it("keeps the nodes of its meshes in their order, for values go with them, and turns its triangles", () => {
    const mesh = {
      nodes: Float64Array.of(0, 0, 5, 0.3, 0.1, 6, 0.1, 0.2, 7),
      triangles: Uint32Array.of(0, 1, 2),
    };
    const drawn = (build: Build) => drawnMesh(build, mesh);
    expect([...drawn(right.build).nodes]).toEqual([0, 0, 0.3, 0.1, 0.1, 0.2]);
    expect([...drawn(left.build).nodes].map((v) => v + 0)).toEqual([0, 0, 0.3, -0.1, 0.1, -0.2]);
    for (const { nodes, triangles } of [drawn(right.build), drawn(left.build)])
      expect(turnOf(corners(nodes, triangles))).toBeGreaterThan(0);
  });
});

function corners(nodes: Float64Array, triangles: Uint32Array): Float64Array {
  return Float64Array.from([...triangles].flatMap((n) => [nodes[2 * n]!, nodes[2 * n + 1]!]));
}
