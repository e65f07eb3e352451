import { describe, expect, it } from "vitest";
import { opened, quiet, symmetricMultiply } from "#engine/numerics";
import type { Panel, PlyMaterial } from "./panel.ts";
import { panelModes } from "./panelModes.ts";
import { panelStatic } from "./panelStatic.ts";
import { type PanelSystem, panelSystem } from "./panelSystem.ts";
import { panelMesh } from "./shellMesh.ts";
import { spruce } from "./spruce.fixture.ts";

const loss = { L: 0.01, R: 0.01, LR: 0.01, transverse: 0.01 };
const wood: PlyMaterial = { ...spruce, loss };
const panel: Panel = {
  outline: Float64Array.of(0, 0, 0.3, 0, 0.3, 0.2, 0, 0.2),
  holes: [Float64Array.of(0.2, 0.08, 0.24, 0.08, 0.24, 0.12, 0.2, 0.12)],
  dome: { radius: 5, apex: [0.1, 0.1] },
  wood,
  thickness: 0.003,
  grainAngle: 0.2,
  ribs: [
    {
      path: Float64Array.of(0.03, 0.02, 0.17, 0.18),
      width: 0.008,
      heights: [
        [0, 0.004],
        [0.5, 0.012],
        [1, 0.004],
      ],
      material: { density: 420, EL: 12e9, G: 0.75e9, ET: 0.6e9, loss: { L: 0.01, G: 0.01, T: 0.01 } },
      side: "inside",
    },
    {
      path: Float64Array.of(0.03, 0.18, 0.17, 0.02),
      width: 0.006,
      heights: [[0, 0.006]],
      material: { density: 420, EL: 12e9, G: 0.75e9, ET: 0.6e9, loss: { L: 0.01, G: 0.01, T: 0.01 } },
      side: "inside",
    },
  ],
  patches: [
    {
      polygon: Float64Array.of(0.06, 0.05, 0.085, 0.05, 0.085, 0.15, 0.06, 0.15),
      thickness: 0.008,
      wood: { ...wood, density: 850, EL: 14e9, ER: 2e9 },
      grainAngle: Math.PI / 2,
      side: "outside",
    },
  ],
  film: {
    thickness: 1e-4,
    material: {
      density: 1000,
      EL: 2.5e9,
      ER: 2.5e9,
      nuLR: 0.35,
      GLR: 0.93e9,
      GLT: 0.93e9,
      GRT: 0.93e9,
      loss: { L: 0.01, R: 0.01, LR: 0.01, transverse: 0.01 },
    },
  },
  edge: { kind: "free" },
};
const plateArea = 0.3 * 0.2 - 0.04 * 0.04;
const ribMass = 420 * (0.008 * 0.008 * Math.hypot(0.14, 0.16) + 0.006 * 0.006 * Math.hypot(0.14, 0.16));
// the film is left off under the patch
const weight =
  plateArea * 400 * 0.003 + (plateArea - 0.025 * 0.1) * 0.1 + 0.025 * 0.1 * 0.008 * 850 + ribMass;

/** Unit rigid motion r of a free panel about the origin: translations x y z, rotations x y z. */
function rigidMotion({ mesh: { nodes: n }, dof, stiffness }: PanelSystem, r: number): Float64Array {
  const u = new Float64Array(stiffness.n);
  for (let node = 0; node < n.length / 3; node++) {
    const [x, y, z] = [n[3 * node], n[3 * node + 1], n[3 * node + 2]];
    const move = [0, 0, 0, 0, 0, 0];
    move[r] = 1;
    if (r === 3) move.splice(0, 3, 0, -z, y);
    if (r === 4) move.splice(0, 3, z, 0, -x);
    if (r === 5) move.splice(0, 3, -y, x, 0);
    move.forEach((v, m) => {
      u[dof[6 * node + m]] = v;
    });
  }
  return u;
}

describe("panel system", () => {
  const free = panelSystem(panel, opened(panelMesh(panel, 0.012)));

  it("weighs plate, ribs at full section, patch and finish (flat)", () => {
    const flat = { ...panel, dome: null };
    const system = panelSystem(flat, opened(panelMesh(flat, 0.012)));
    expect(system.totalMass / weight).toBeCloseTo(1, 10);
  });

  it("weighs a dome's surface, held edge or not", () => {
    expect(free.totalMass / weight).toBeGreaterThan(1);
    expect(free.totalMass / weight).toBeLessThan(1.002);
    const held = panelSystem({ ...panel, edge: { kind: "clamped" } }, free.mesh);
    expect(held.totalMass).toBe(free.totalMass);
  });

  it("six rigid motions of a ribbed, patched dome store no energy", () => {
    const k = free.stiffness;
    for (let r = 0; r < 6; r++) {
      const u = rigidMotion(free, r);
      const f = symmetricMultiply(k, u);
      const scale = Math.max(...k.values);
      expect(Math.max(...f.map(Math.abs)) / scale).toBeLessThan(1e-10);
    }
  });

  it("free: six rigid motions are left out; the loss factor of an evenly lossy panel is that loss", () => {
    const modes = opened(panelModes(free, 5, quiet));
    expect(modes.omega[0]).toBeGreaterThan(2 * Math.PI * 20);
    // the finish adds mass only, so every stiffness here has the same loss
    for (const eta of modes.lossFactor) expect(eta).toBeCloseTo(0.01, 8);
  });

  it("free modes carry no momentum: phi' M R = 0", () => {
    // without ribs, whose own turns are not among the shapes
    const plain = { ...panel, ribs: [] };
    const system = panelSystem(plain, opened(panelMesh(plain, 0.012)));
    const modes = opened(panelModes(system, 5, quiet));
    for (let r = 0; r < 6; r++) {
      const momentum = symmetricMultiply(system.mass, rigidMotion(system, r));
      for (let m = 0; m < modes.omega.length; m++) {
        let sum = 0;
        system.dof.forEach((row, k) => {
          sum += modes.shapes[m * system.dof.length + k] * momentum[row];
        });
        expect(Math.abs(sum)).toBeLessThan(1e-5 * Math.sqrt(system.totalMass));
      }
    }
  });

  it("a force at one place moves another as the other way round, and works half its force times its way", () => {
    const held = { ...panel, edge: { kind: "hinged" } as const };
    const system = panelSystem(held, opened(panelMesh(held, 0.012)));
    const points = [
      [0.15, 0.1],
      [0.1, 0.05],
    ] as const;
    const answers = points.map(([x, y]) => {
      const [x0, x1, y0, y1] = [x - 5e-4, x + 5e-4, y - 5e-4, y + 5e-4];
      const polygon = Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
      return opened(panelStatic(system, [{ polygon, force: [0, 0, 1], couple: [0, 0, 0] }], points));
    });
    answers.forEach((a, k) => {
      expect(a.points[6 * k + 2]).toBeGreaterThan(0);
      expect((2 * a.energy) / a.points[6 * k + 2]).toBeCloseTo(1, 2);
    });
    expect(answers[0].points[8] / answers[1].points[2]).toBeCloseTo(1, 2);
  });

  it("an elastic edge lies between hinged without in-plane hold and clamped, and an open stretch softens it", () => {
    const lowest = (edge: Panel["edge"]): number => {
      const p = { ...panel, dome: null, edge };
      return opened(panelModes(panelSystem(p, opened(panelMesh(p, 0.015))), 1, quiet)).omega[0];
    };
    const springs = { kind: "elastic", rotation: 21, normal: 1800, tangential: 1.5e7, open: [] } as const;
    const elastic = lowest(springs);
    expect(elastic).toBeLessThan(lowest({ kind: "clamped" }));
    expect(lowest({ ...springs, rotation: 0, normal: 1, tangential: 1 })).toBeLessThan(elastic);
    expect(lowest({ ...springs, open: [Float64Array.of(0.3, 0, 0.3, 0.2)] })).toBeLessThan(elastic);
  });

  it("gives each rib node the turn of its section, but not where two ribs cross", () => {
    const flat = { ...panel, dome: null };
    const system = panelSystem(flat, opened(panelMesh(flat, 0.012)));
    const ribNodes = system.mesh.ribs.reduce((sum, chain) => sum + chain.length, 0);
    const shared = system.mesh.ribs[0].filter((node) => system.mesh.ribs[1].includes(node)).length;
    expect(shared).toBe(1);
    expect(system.stiffness.n).toBe(2 * system.mesh.nodes.length + ribNodes - 2 * shared);
  });

  it("refuses loads and points off the plate", () => {
    const held = { ...panel, edge: { kind: "hinged" } as const };
    const system = panelSystem(held, opened(panelMesh(held, 0.02)));
    expect(panelStatic(system, [], [[1, 1]])).toMatchObject({ ok: false, reason: "point-outside" });
    const off = { polygon: Float64Array.of(1, 1, 2, 1, 2, 2), force: [0, 0, 1], couple: [0, 0, 0] } as const;
    expect(panelStatic(system, [off], [])).toMatchObject({ ok: false, reason: "load-outside" });
  });
});
