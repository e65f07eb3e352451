import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { pointInPolygon } from "#engine/geometry";
import {
  locate,
  meshFaults,
  meshPlan,
  meshQuality,
  nodeAreas,
  type PlanMesh,
  type PlanRegion,
} from "#engine/meshing";
import { opened } from "#engine/numerics";
import { proof } from "#proofs/harness";

type Pair = readonly [number, number];

interface Case {
  panel: {
    outline: Pair[];
    holes: Pair[][];
    thickness: number;
    material: { rho: number };
    braces: { from: Pair; to: Pair; width: number; heights: Pair[]; material: { rho: number } }[];
    plates: { polygon: Pair[]; thickness: number; material: { rho: number } }[];
  };
  reference: { mass_kg: number };
}

function read(name: string): Case {
  return JSON.parse(readFileSync(new URL(`../reference/panel-cases/${name}.json`, import.meta.url), "utf8"));
}

const flat = (points: readonly Pair[]) => Float64Array.from(points.flat());

function regionOf({ panel }: Case): PlanRegion {
  return {
    outline: flat(panel.outline),
    holes: panel.holes.map(flat),
    lines: [
      ...panel.braces.map((b) => flat([b.from, b.to])),
      ...panel.plates.map((p) => flat([...p.polygon, p.polygon[0]])),
    ],
  };
}

/** Volume of a brace from its node chain: width x height, linear between the nodes. */
function braceVolume(mesh: PlanMesh, chain: Uint32Array, width: number, heights: readonly Pair[]): number {
  const at = Array.from(chain, (p) => [mesh.nodes[2 * p], mesh.nodes[2 * p + 1]] as const);
  const step = at.slice(1).map(([x, y], i) => Math.hypot(x - at[i][0], y - at[i][1]));
  const whole = step.reduce((s, l) => s + l, 0);
  const height = (s: number) => {
    const k = Math.max(
      1,
      heights.findIndex(([t]) => t >= s),
    );
    const [[s0, h0], [s1, h1]] = [heights[k - 1], heights[k]];
    return h0 + ((h1 - h0) * (s - s0)) / (s1 - s0);
  };
  let from = 0;
  let volume = 0;
  for (const l of step) {
    const to = Math.min(1, from + l / whole);
    volume += (width * l * (height(from) + height(to))) / 2;
    from = to;
  }
  return volume;
}

/** Mass of a case, kg, from the mesh: node areas, brace chains and the triangles inside each plate. */
function mass(name: string, size: number, slip: Readonly<Record<string, number>>): number {
  const one = read(name);
  const region = regionOf(one);
  const mesh = opened(meshPlan(region, { size }));
  const { panel } = one;
  const area = nodeAreas(mesh).reduce((s, a) => s + a, 0) * (slip.area ?? 1);
  let sum = panel.material.rho * panel.thickness * area;
  panel.braces.forEach((b, k) => {
    sum += b.material.rho * braceVolume(mesh, mesh.lines[k], b.width, b.heights) * (slip.braces ?? 1);
  });
  for (const p of panel.plates) {
    const polygon = flat(p.polygon);
    for (let e = 0; e < mesh.triangles.length; e += 3) {
      const at = [0, 1, 2].map((k) => [
        mesh.nodes[2 * mesh.triangles[e + k]],
        mesh.nodes[2 * mesh.triangles[e + k] + 1],
      ]);
      const [[ax, ay], [bx, by], [cx, cy]] = at;
      if (!pointInPolygon(polygon, (ax + bx + cx) / 3, (ay + by + cy) / 3)) continue;
      const twice = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
      sum += (p.material.rho * p.thickness * twice * (slip.plates ?? 1)) / 2;
    }
  }
  return sum;
}

const quoted = (names: readonly string[]) => names.map((name) => read(name).reference.mass_kg);

const bare = ["c02_ortho_hinged_rect", "c04_guitar_flat_hinged"];
proof(
  "mass of bare panels from the node areas, kg",
  {
    source: "PANEL-CASES mass_kg",
    quoted: quoted(bare),
    relTol: 5e-4,
    because: "a hole drawn finer than the mesh is followed by chords; the outline is kept exactly",
    mustNotice: { area: 1.002 },
  },
  (slip) => bare.map((name) => mass(name, 0.01, slip)),
);

const braced = [
  "c07_rect_one_brace_hinged",
  "c08_rect_three_crossing",
  "c09_guitar_x_braced",
  "c10_guitar_radial",
];
proof(
  "mass of braced panels from node areas, brace chains and plate triangles, kg",
  {
    source: "PANEL-CASES mass_kg",
    quoted: quoted(braced),
    relTol: 1.5e-3,
    because: "hole chords as above, and the height profile is taken linear between nodes",
    mustNotice: { area: 1.01, braces: 1.05, plates: 1.1 },
  },
  (slip) => braced.map((name) => mass(name, 0.01, slip)),
);

describe("the panel cases as meshes", () => {
  for (const name of [
    "c04_guitar_flat_hinged",
    "c08_rect_three_crossing",
    "c09_guitar_x_braced",
    "c10_guitar_radial",
  ]) {
    it(`${name}: sound, and no angle below 20 degrees at 20, 10 and 5 mm`, () => {
      const region = regionOf(read(name));
      for (const size of [0.02, 0.01, 0.005]) {
        const mesh = opened(meshPlan(region, { size }));
        expect(meshFaults(mesh, region)).toEqual([]);
        expect(meshQuality(mesh).minAngle).toBeGreaterThan((20 * Math.PI) / 180);
        expect(locate(mesh, 0.1, 0.02)).not.toBeNull();
      }
    });
  }
});
