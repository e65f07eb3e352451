import { describe, expect, it } from "vitest";
import { polygonArea } from "#engine/geometry";
import { opened, symmetricMultiply, triangleRule } from "#engine/numerics";
import { box, egg, ellipse, opening } from "./cavity.fixture.ts";
import { cavityMatrices } from "./cavityMatrices.ts";
import { type CavityMesh, cavityMesh } from "./cavityMesh.ts";
import { backHeight, type CavitySpec, topHeight } from "./cavitySpec.ts";
import { facePoints } from "./facePoints.ts";

/** x' A y over the nodes' values of two functions of place. */
function form(
  a: Parameters<typeof symmetricMultiply>[0],
  mesh: CavityMesh,
  f: (x: number, y: number, z: number) => number,
  g = f,
): number {
  const { plan, levels, bottom, top } = mesh;
  const values = (h: typeof f) =>
    Float64Array.from({ length: a.n }, (_, i) => {
      const p = Math.floor(i / levels);
      const s = (i % levels) / (levels - 1);
      return h(plan.nodes[2 * p], plan.nodes[2 * p + 1], bottom[p] + s * (top[p] - bottom[p]));
    });
  const image = symmetricMultiply(a, values(f));
  return values(g).reduce((sum, v, i) => sum + v * image[i], 0);
}

/** Integral of the depth over the polygon, by a fan of triangles about a point inside. */
function volumeOf(spec: CavitySpec): number {
  const { outline, top, back } = spec;
  const rule = triangleRule(5);
  let sum = 0;
  const n = outline.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const corners = [0.22, 0, outline[2 * i], outline[2 * i + 1], outline[2 * j], outline[2 * j + 1]];
    const area = polygonArea(Float64Array.from(corners));
    rule.weights.forEach((w, g) => {
      const at = (d: number) =>
        [0, 1, 2].reduce((s, k) => s + rule.points[3 * g + k] * corners[2 * k + d], 0);
      sum += area * w * (topHeight(top, at(0), at(1)) - backHeight(back, at(0), at(1)));
    });
  }
  return sum;
}

describe("the cavity's mesh and matrices", () => {
  it("integrate a box exactly: volume, moments, and gradients of all quadratics", () => {
    const mesh = opened(cavityMesh({ ...box, layers: 2 }));
    const { mass, stiffness } = opened(cavityMatrices(mesh));
    const [lx, ly, d] = [0.5, 0.4, 0.1];
    const v = lx * ly * d;
    const close = (found: number, wanted: number) => expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-12);
    close(
      form(mass, mesh, () => 1),
      v,
    );
    close(
      form(mass, mesh, (x) => x),
      (v * lx * lx) / 3,
    );
    close(
      form(
        mass,
        mesh,
        (x, y) => x * y,
        (_x, _y, z) => z * z,
      ),
      (((((v * lx) / 2) * ly) / 2) * (d * d)) / 3,
    );
    close(
      form(stiffness, mesh, (x, y, z) => 2 * x - 3 * y + 5 * z),
      38 * v,
    );
    close(
      form(stiffness, mesh, (_x, _y, z) => z * z),
      (v * 4 * d * d) / 3,
    );
    close(
      form(stiffness, mesh, (x, y) => x * y),
      (v * (lx * lx + ly * ly)) / 3,
    );
    expect(
      Math.abs(
        form(
          stiffness,
          mesh,
          () => 1,
          (x) => x,
        ),
      ),
    ).toBeLessThan(1e-13);
  });

  it("integrate linear functions exactly between sloping faces", () => {
    const sloping = {
      ...box,
      top: { at: 0.01, perX: 0.05, dome: null },
      back: { at: -0.1, perX: -0.08, dome: null },
    };
    const mesh = opened(cavityMesh(sloping));
    const { mass, stiffness } = opened(cavityMatrices(mesh));
    const volume = 0.5 * 0.4 * (0.11 + 0.13 * 0.25);
    expect(Math.abs(form(mass, mesh, () => 1) / volume - 1)).toBeLessThan(1e-12);
    expect(Math.abs(form(stiffness, mesh, (x, y, z) => x + y + z) / (3 * volume) - 1)).toBeLessThan(1e-12);
  });

  it("fill a domed, wedge-shaped, round body to 1e-4, better with smaller elements", () => {
    const error = (size: number) => {
      const mesh = opened(cavityMesh({ ...egg, size }));
      return Math.abs(form(opened(cavityMatrices(mesh)).mass, mesh, () => 1) / volumeOf(egg) - 1);
    };
    expect(error(0.08)).toBeLessThan(2e-4);
    expect(error(0.04)).toBeLessThan(3e-5);
  });

  it("close the wall: its area vectors add up to nothing, its flow of place is three volumes", () => {
    const mesh = opened(cavityMesh(egg));
    const points = facePoints(mesh.wall, () => 1);
    const sum = [0, 0, 0, 0];
    for (let g = 0; g < points.count; g++)
      for (let d = 0; d < 3; d++) {
        sum[d] += points.area[3 * g + d];
        sum[3] += points.area[3 * g + d] * points.at[3 * g + d];
      }
    for (let d = 0; d < 3; d++) expect(Math.abs(sum[d])).toBeLessThan(1e-14);
    const volume = form(opened(cavityMatrices(mesh)).mass, mesh, () => 1);
    expect(Math.abs(sum[3] / 3 / volume - 1)).toBeLessThan(1e-9);
  });

  it("follow the hole, inside, touching and crossing the edge", () => {
    for (const [x, share] of [
      [0.2, 1],
      [0.0505, 1],
      [0.05, 0.997],
      [0, 0.5],
    ] as const) {
      const mesh = opened(cavityMesh({ ...box, hole: opening(ellipse(x, 0.2, 0.05, 0.05)), size: 0.06 }));
      const points = facePoints(mesh.wall, (f) => (mesh.wall.faces[f].part === 3 ? 1 : 0));
      let area = 0;
      for (let g = 0; g < points.count; g++) area += points.area[3 * g + 2];
      expect(Math.abs(area / (share * Math.PI * 0.05 ** 2) - 1)).toBeLessThan(5e-3);
      expect(mesh.plan.open.some((o) => o === 1)).toBe(x <= 0.05);
    }
  });

  it("refuse a body without depth, and a hole that leaves no top or lies outside", () => {
    expect(cavityMesh({ ...box, back: { at: 0.01, perX: 0, dome: null } })).toMatchObject({
      reason: "cavity-without-depth",
    });
    expect(cavityMesh({ ...box, hole: opening(ellipse(0.25, 0.2, 1, 1)) })).toMatchObject({
      reason: "hole-outside",
    });
    expect(cavityMesh({ ...box, hole: opening(ellipse(3, 0.2, 0.05, 0.05)) })).toMatchObject({
      reason: "hole-outside",
    });
  });
});
