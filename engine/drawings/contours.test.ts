import { describe, expect, it } from "vitest";
import { antinodes, edgeEased, levelLines, regionAbove, thinned } from "./contours.ts";
import type { PlateMesh } from "./voiceView.ts";

/** A square of side 2 about the origin in 2 n x n triangles. */
function square(n: number): PlateMesh {
  const nodes: number[] = [];
  for (let i = 0; i <= n; i++) for (let j = 0; j <= n; j++) nodes.push((2 * i) / n - 1, (2 * j) / n - 1);
  const triangles: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const a = i * (n + 1) + j;
      triangles.push(a, a + n + 1, a + n + 2, a, a + n + 2, a + 1);
    }
  }
  return { nodes: Float64Array.from(nodes), triangles: Uint32Array.from(triangles) };
}

function valued(mesh: PlateMesh, f: (x: number, y: number) => number): Float64Array {
  return Float64Array.from({ length: mesh.nodes.length / 2 }, (_, n) =>
    f(mesh.nodes[2 * n], mesh.nodes[2 * n + 1]),
  );
}

function area(rings: readonly Float64Array[]): number {
  let twice = 0;
  for (const r of rings) {
    for (let i = 0; i < r.length; i += 2) {
      const j = (i + 2) % r.length;
      twice += r[i] * r[j + 1] - r[j] * r[i + 1];
    }
  }
  return twice / 2;
}

describe("the region at or above a level", () => {
  it("is cut exactly where a plane crosses the level, and closed along the plate's edge", () => {
    const mesh = square(7);
    const rings = regionAbove(
      mesh,
      valued(mesh, (x, y) => x + 0.5 * y),
      0.3,
    );
    expect(rings).toHaveLength(1);
    // x + y/2 >= 0.3 in the square: width 1 - (0.3 - y/2), mean 0.7 over y, times 2.
    expect(area(rings)).toBeCloseTo(1.4, 12);
  });

  it("converges to a disc and keeps a ring's hole as a ring of the other sense", () => {
    const mesh = square(80);
    const hill = valued(mesh, (x, y) => -Math.hypot(x, y));
    expect(area(regionAbove(mesh, hill, -0.7))).toBeCloseTo(Math.PI * 0.49, 2);
    const ring = valued(mesh, (x, y) => -Math.abs(Math.hypot(x, y) - 0.6));
    const pieces = regionAbove(mesh, ring, -0.1);
    expect(pieces).toHaveLength(2);
    expect(area(pieces)).toBeCloseTo(Math.PI * (0.49 - 0.25), 2);
  });

  it("together with the region below fills the plate", () => {
    const mesh = square(23);
    const wavy = valued(mesh, (x, y) => Math.sin(5 * x + 1) * Math.cos(4 * y - 0.3) + 0.2 * x);
    const above = area(regionAbove(mesh, wavy, 0.1));
    const below = area(
      regionAbove(
        mesh,
        wavy.map((v) => -v),
        -0.1,
      ),
    );
    expect(above + below).toBeCloseTo(4, 9);
  });

  it("is the same on a mirrored mesh, whose triangles turn the other way", () => {
    const mesh = square(23);
    const wavy = valued(mesh, (x, y) => Math.sin(5 * x + 1) * Math.cos(4 * y - 0.3));
    const mirrored = { nodes: mesh.nodes.map((v, i) => (i % 2 === 0 ? v : -v)), triangles: mesh.triangles };
    expect(area(regionAbove(mirrored, wavy, 0.1))).toBeCloseTo(-area(regionAbove(mesh, wavy, 0.1)), 9);
  });

  it("is the whole plate under its least value and nothing over its greatest", () => {
    const mesh = square(5);
    const flat = valued(mesh, () => 1);
    expect(area(regionAbove(mesh, flat, 0.5))).toBeCloseTo(4, 12);
    expect(regionAbove(mesh, flat, 1.5)).toEqual([]);
  });
});

describe("the line of a level", () => {
  it("runs open from edge to edge, or closed", () => {
    const mesh = square(20);
    const across = levelLines(
      mesh,
      valued(mesh, (x) => x - 0.13),
      0,
    );
    expect([across.open.length, across.rings.length]).toEqual([1, 0]);
    expect(Math.abs(across.open[0][1])).toBeCloseTo(1, 12);
    const round = levelLines(
      mesh,
      valued(mesh, (x, y) => 0.5 - Math.hypot(x, y)),
      0,
    );
    expect([round.open.length, round.rings.length]).toEqual([0, 1]);
  });

  it("does not run along an edge that is held still to rounding", () => {
    const mesh = square(16);
    const held = valued(mesh, (x, y) => x * (1 - x * x) * (1 - y * y) + 1e-9 * Math.sin(40 * x + 17 * y));
    const raw = levelLines(mesh, held, 0);
    const eased = levelLines(mesh, edgeEased(mesh, held, 0.01), 0);
    expect(raw.open.length + raw.rings.length).toBeGreaterThan(3);
    expect([eased.open.length, eased.rings.length]).toEqual([1, 0]);
    for (let i = 0; i < eased.open[0].length; i += 2) expect(Math.abs(eased.open[0][i])).toBeLessThan(0.2);
  });
});

describe("antinodes", () => {
  it("are one for each patch that moves, where it moves most, and none on unused nodes", () => {
    const mesh = square(40);
    const motion = valued(mesh, (x, y) => Math.sin(Math.PI * x) * (1 - y * y));
    const found = antinodes(mesh, motion, 0.1).map((n) => [
      mesh.nodes[2 * n],
      mesh.nodes[2 * n + 1],
      Math.sign(motion[n]),
    ]);
    expect(found.sort((a, b) => a[0] - b[0])).toEqual([
      [-0.5, 0, -1],
      [0.5, 0, 1],
    ]);
    const loose = { nodes: Float64Array.from([...mesh.nodes, 5, 5]), triangles: mesh.triangles };
    expect(antinodes(loose, Float64Array.from([...motion, 9]), 0.1)).toHaveLength(2);
  });
});

describe("a thinned chain", () => {
  it("keeps its ends and stays within the tolerance of the full one", () => {
    const arc = Float64Array.from({ length: 400 }, (_, i) => {
      const t = (Math.PI * Math.floor(i / 2)) / 199;
      return i % 2 === 0 ? Math.cos(t) : Math.sin(t);
    });
    const few = thinned(arc, 0.01);
    expect(few.length).toBeLessThan(60);
    expect([...few.slice(0, 2), ...few.slice(-2)]).toEqual([...arc.slice(0, 2), ...arc.slice(-2)]);
    // Sagitta of the longest chord kept.
    let longest = 0;
    for (let i = 2; i < few.length; i += 2)
      longest = Math.max(longest, Math.hypot(few[i] - few[i - 2], few[i + 1] - few[i - 1]));
    expect(1 - Math.sqrt(1 - (longest / 2) ** 2)).toBeLessThanOrEqual(0.01 + 1e-9);
  });
});
