import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { polygonArea } from "#engine/geometry";
import { opened } from "#engine/numerics";
import { locate, meshFaults, meshPlan, meshQuality, type PlanMesh, type PlanRegion } from "./index.ts";
import { body, bodyOutline, chain, circle, mapped, plain, radial } from "./regions.fixture.ts";

const degree = Math.PI / 180;

function sound(region: PlanRegion, size: number): PlanMesh {
  const mesh = opened(meshPlan(region, { size }));
  expect(meshFaults(mesh, region)).toEqual([]);
  return mesh;
}

describe("meshPlan", () => {
  it("fills a rectangle exactly, with angles above 25 degrees and edges of about the size", () => {
    const mesh = sound(plain([]), 0.01);
    const q = meshQuality(mesh);
    expect(q.area).toBeCloseTo(0.06, 14);
    expect(q.minAngle).toBeGreaterThan(25 * degree);
    expect(q.nodes).toBeGreaterThan(0.8 * (0.06 / (0.866 * 1e-4)));
    expect(q.nodes).toBeLessThan(1.3 * (0.06 / (0.866 * 1e-4)));
  });

  it("keeps crossing and radial braces round a patch above 20 degrees at 10 and at 5 mm", () => {
    for (const size of [0.01, 0.005])
      expect(meshQuality(sound(body, size)).minAngle).toBeGreaterThan(20 * degree);
  });

  it("keeps every corner of a polygon whose edges are about the size", () => {
    const mesh = sound(body, 0.01);
    const rim = new Set([...mesh.boundary[0]].map((p) => `${mesh.nodes[2 * p]},${mesh.nodes[2 * p + 1]}`));
    const edge = (i: number) =>
      Math.hypot(
        body.outline[2 * ((i + 1) % 150)] - body.outline[2 * i],
        body.outline[2 * ((i + 1) % 150) + 1] - body.outline[2 * i + 1],
      );
    for (let i = 0; i < 150; i++) {
      if (edge(i) < 0.0071 || edge((i + 149) % 150) < 0.0071) continue;
      expect(rim).toContain(`${body.outline[2 * i]},${body.outline[2 * i + 1]}`);
    }
  });

  it("follows a finely drawn outline by chords, within 0.1 % of its area", () => {
    const fine = { ...body, outline: bodyOutline(1500) };
    const mesh = sound(fine, 0.01);
    expect(mesh.boundary[0].length).toBeLessThan(220);
    const hole = Math.abs(polygonArea(fine.holes[0]));
    expect(Math.abs(meshQuality(mesh).area / (polygonArea(fine.outline) - hole) - 1)).toBeLessThan(1e-3);
  });

  it("gives the same mesh twice", () => {
    expect(opened(meshPlan(body, { size: 0.01 }))).toEqual(opened(meshPlan(body, { size: 0.01 })));
  });

  it("survives turning, mirroring, shifting and scaling", () => {
    const turn = (a: number, s: number) => (x: number, y: number) =>
      [
        s * (x * Math.cos(a) - y * Math.sin(a)) + 3 * s,
        s * (x * Math.sin(a) + y * Math.cos(a)) - 7 * s,
      ] as const;
    for (const [f, s] of [
      [turn(0.7, 1), 1],
      [turn(2.2, 1e3), 1e3],
      [turn(0, 1e-3), 1e-3],
      [(x: number, y: number) => [x, -y] as const, 1],
    ] as const) {
      const q = meshQuality(sound(mapped(body, f), 0.01 * s));
      expect(q.minAngle).toBeGreaterThan(20 * degree);
    }
  });

  it("puts a node where lines cross and runs each chain from start to end", () => {
    const mesh = sound(plain([chain(0.02, 0.03, 0.28, 0.17), chain(0.28, 0.04, 0.03, 0.18)]), 0.01);
    const shared = [...mesh.lines[0]].filter((p) => mesh.lines[1].includes(p));
    expect(shared.length).toBe(1);
    const [first, last] = [mesh.lines[1][0], mesh.lines[1][mesh.lines[1].length - 1]];
    expect([...mesh.nodes.slice(2 * first, 2 * first + 2)]).toEqual([0.28, 0.04]);
    expect([...mesh.nodes.slice(2 * last, 2 * last + 2)]).toEqual([0.03, 0.18]);
  });

  it("lets lines that overlap share their nodes", () => {
    const mesh = sound(
      plain([chain(0.05, 0.1, 0.2, 0.1), chain(0.25, 0.1, 0.1, 0.1), chain(0.05, 0.1004, 0.2, 0.1004)]),
      0.01,
    );
    const on = (l: number) =>
      [...mesh.lines[l]].filter((p) => mesh.nodes[2 * p] > 0.0999 && mesh.nodes[2 * p] < 0.2001);
    expect(on(1).reverse()).toEqual(on(0));
    expect([...mesh.lines[2]]).toEqual([...mesh.lines[0]]);
  });

  it("lets a line lie along the outline, and ends a line on it", () => {
    const mesh = sound(plain([chain(0, 0, 0.3, 0), chain(0.15, 0.1, 0.15, 0.2)]), 0.01);
    expect([...mesh.lines[0]].every((p) => mesh.boundary[0].includes(p))).toBe(true);
    expect(mesh.boundary[0]).toContain(mesh.lines[1][mesh.lines[1].length - 1]);
  });

  it("joins what is nearer than a tenth of the size and resolves what is not", () => {
    for (const gap of [1e-9, 1e-6, 5e-4, 2e-3, 5e-3]) {
      const mesh = sound(
        plain([chain(0.05, 0.1, 0.25, 0.1), chain(0.15, 0.1 + gap, 0.2, 0.18), chain(0.1, gap, 0.1, 0.08)]),
        0.01,
      );
      expect(meshQuality(mesh).minAngle).toBeGreaterThan(20 * degree);
      expect(mesh.lines[0].includes(mesh.lines[1][0])).toBe(gap < 1e-3);
      expect(mesh.boundary[0].includes(mesh.lines[2][0])).toBe(gap < 1e-3);
    }
  });

  it("has no sharper angle than that between the lines themselves", () => {
    for (const a of [15, 8, 3]) {
      const t = a * degree;
      const mesh = sound(
        plain([
          chain(0.02, 0.05, 0.28, 0.05),
          chain(0.02, 0.05, 0.02 + 0.25 * Math.cos(t), 0.05 + 0.25 * Math.sin(t)),
        ]),
        0.01,
      );
      expect(meshQuality(mesh).minAngle).toBeGreaterThan(0.99 * t);
    }
  });

  it("does not shrink the triangles for a gap outside the wood", () => {
    const notch = (open: number) =>
      meshQuality(
        sound(
          {
            outline: chain(0, 0, 0.3, 0, 0.3, 0.2, 0.15 + open, 0.2, 0.15, 0.08, 0.15 - open, 0.2, 0, 0.2),
            holes: [],
            lines: [],
          },
          0.01,
        ),
      ).nodes;
    expect(notch(0.002)).toBeLessThan(1.15 * notch(0.02) + 30);
  });

  it("meets seven braces in one point", () => {
    const mesh = sound(plain(radial(7, 0.15, 0.1, 0, 0.08)), 0.01);
    expect(new Set(mesh.lines.map((line) => line[0])).size).toBe(1);
    expect(meshQuality(mesh).minAngle).toBeGreaterThan(25 * degree);
  });

  it("makes small triangles where they are asked for and grades away from there", () => {
    const region = plain([]);
    const near = { points: chain(0.15, 0.1), size: 0.001, reach: 0.004 };
    const mesh = opened(meshPlan(region, { size: 0.01, sizeNear: [near] }));
    expect(meshFaults(mesh, region)).toEqual([]);
    const edge = (x: number, y: number) => {
      const [a, b] = mesh.triangles.subarray(3 * locate(mesh, x, y)!.triangle);
      return Math.hypot(mesh.nodes[2 * a] - mesh.nodes[2 * b], mesh.nodes[2 * a + 1] - mesh.nodes[2 * b + 1]);
    };
    expect(edge(0.15, 0.1)).toBeLessThan(0.0016);
    expect(edge(0.27, 0.17)).toBeGreaterThan(0.006);
    expect(meshQuality(mesh).minAngle).toBeGreaterThan(20 * degree);
  });

  it("cuts off a line end that sticks out a little, with a warning, and refuses one that leaves the region", () => {
    const little = meshPlan(plain([chain(0.1, 0.1, 0.1, 0.202)]), { size: 0.01 });
    expect(little.ok && little.warnings.map((w) => w.code)).toEqual(["line-trimmed"]);
    const reasons = [
      meshPlan(plain([chain(0.1, 0.1, 0.1, 0.25)]), { size: 0.01 }),
      meshPlan(plain([chain(0.5, 0.1, 0.6, 0.1)]), { size: 0.01 }),
      meshPlan(
        { ...plain([chain(0.05, 0.1, 0.25, 0.1)]), holes: [circle(0.15, 0.1, 0.03, 30)] },
        { size: 0.01 },
      ),
    ].map((o) => (o.ok ? "ok" : o.reason));
    expect(reasons).toEqual(["line-outside", "line-outside", "line-outside"]);
  });

  it("refuses what encloses nothing, crosses itself, lies outside, or asks for too much", () => {
    const reason = (region: PlanRegion, size = 0.01) => {
      const o = meshPlan(region, { size });
      return o.ok ? "ok" : o.reason;
    };
    expect(reason({ ...plain([]), outline: chain(0, 0, 1, 0) })).toBe("degenerate-region");
    expect(reason({ ...plain([]), outline: chain(0, 0, 1, 0, 2, 0) })).toBe("degenerate-region");
    expect(reason({ ...plain([]), outline: chain(0, 0, 1, 0, 1, Number.NaN) })).toBe("degenerate-region");
    expect(reason({ ...plain([]), outline: chain(0, 0, 0.3, 0.2, 0.3, 0, 0, 0.19) })).toBe(
      "outline-crosses-itself",
    );
    expect(reason({ ...plain([]), holes: [circle(0.3, 0.1, 0.03, 20)] })).toBe("hole-outside");
    expect(reason({ ...plain([]), holes: [circle(0.1, 0.1, 0.03, 20), circle(0.12, 0.1, 0.03, 20)] })).toBe(
      "holes-meet",
    );
    expect(reason(plain([chain(0.1, 0.1, 0.1, 0.1)]))).toBe("line-too-short");
    expect(reason(plain([]), 1e-5)).toBe("size-too-small");
    expect(reason(plain(new Array(1001).fill(chain(0.1, 0.1, 0.2, 0.1))))).toBe("too-many-lines");
    expect(reason(plain([]), 0)).toBe("bad-size");
    expect(reason(plain([]), Number.NaN)).toBe("bad-size");
  });

  it("stays sound whatever lines are thrown in", () => {
    const point = fc.tuple(
      fc.double({ min: 0.01, max: 0.29, noNaN: true }),
      fc.double({ min: 0.01, max: 0.19, noNaN: true }),
    );
    const grid = fc
      .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 9 }))
      .map(([i, j]) => [0.02 * i, 0.02 * j] as const);
    const line = fc
      .tuple(fc.oneof(point, grid), fc.oneof(point, grid))
      .filter(([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]) > 0.01);
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 7 }), (lines) => {
        const region = plain(lines.map(([a, b]) => chain(...a, ...b)));
        const mesh = opened(meshPlan(region, { size: 0.02 }));
        expect(meshFaults(mesh, region)).toEqual([]);
      }),
      { seed: 20261125, numRuns: 60 },
    );
  });
});
