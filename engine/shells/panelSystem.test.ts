import { describe, expect, it } from "vitest";
import { opened, quiet, symmetricMultiply } from "#engine/numerics";
import type { Panel, PlyMaterial } from "./panel.ts";
import { motionAt, panelModes } from "./panelModes.ts";
import { panelStatic, pointFlexibility } from "./panelStatic.ts";
import { panelSystem } from "./panelSystem.ts";
import { rimEdge } from "./rimEdge.ts";
import { panelMesh } from "./shellMesh.ts";

const loss = { L: 0.01, R: 0.01, LR: 0.01, transverse: 0.01 };
const spruce: PlyMaterial = {
  density: 400,
  EL: 11e9,
  ER: 0.85e9,
  nuLR: 0.37,
  GLR: 0.7e9,
  GLT: 0.66e9,
  GRT: 40e6,
  loss,
};
const side = {
  bendingStiffnessAcross: 0.6,
  shearStiffness: 1.5e6,
  depth: 0.1,
  lining: { width: 0.006, height: 0.015, EL: 2e9, G: 0.3e9 },
  open: [],
  held: [],
};
const panel: Panel = {
  outline: Float64Array.of(0, 0, 0.3, 0, 0.3, 0.2, 0, 0.2),
  holes: [Float64Array.of(0.2, 0.08, 0.24, 0.08, 0.24, 0.12, 0.2, 0.12)],
  dome: { radius: 5, apex: [0.1, 0.1] },
  wood: spruce,
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
      wood: { ...spruce, density: 850, EL: 14e9, ER: 2e9 },
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

describe("panel system", () => {
  const free = panelSystem(panel, opened(panelMesh(panel, 0.012)));

  it("weighs plate, ribs at full section, patch and finish (flat)", () => {
    const flat = { ...panel, dome: null };
    const system = panelSystem(flat, opened(panelMesh(flat, 0.012)));
    expect(system.totalMass / weight).toBeCloseTo(1, 10);
    expect(system.nodeArea.reduce((a, b) => a + b, 0) / plateArea).toBeCloseTo(1, 12);
    expect(system.rigidVolume[2] / plateArea).toBeCloseTo(1, 12);
  });

  it("a domed one sweeps its plan area in z and nothing in x and y but what its rim's height gives", () => {
    expect(free.rigidVolume[2] / plateArea).toBeCloseTo(1, 10);
    expect(free.totalMass / weight).toBeGreaterThan(1);
    expect(free.totalMass / weight).toBeLessThan(1.002);
  });

  it("six rigid motions of a ribbed, patched dome store no energy", () => {
    const k = free.stiffness;
    const n = free.mesh.nodes;
    for (let r = 0; r < 6; r++) {
      const u = new Float64Array(k.n);
      for (let node = 0; node < n.length / 3; node++) {
        const [x, y, z] = [n[3 * node], n[3 * node + 1], n[3 * node + 2]];
        const move = [0, 0, 0, 0, 0, 0];
        move[r] = 1;
        if (r === 3) move.splice(0, 3, 0, -z, y);
        if (r === 4) move.splice(0, 3, z, 0, -x);
        if (r === 5) move.splice(0, 3, -y, x, 0);
        move.forEach((v, m) => {
          u[free.dof[6 * node + m]] = v;
        });
      }
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
    // free modes carry no momentum: phi' M R = 0
    const scale = Math.sqrt(free.totalMass);
    for (const v of modes.rigidCoupling) expect(Math.abs(v)).toBeLessThan(1e-5 * scale);
  });

  it("modal mass coupling to a rigid translation adds up towards the mass (held edge)", () => {
    const held = { ...panel, edge: rimEdge(side) };
    const system = panelSystem(held, opened(panelMesh(held, 0.012)));
    const modes = opened(panelModes(system, 60, quiet));
    let sum = 0;
    for (let m = 0; m < modes.count; m++) sum += modes.rigidCoupling[6 * m + 2] ** 2;
    expect(sum / system.totalMass).toBeGreaterThan(0.75);
    expect(sum / system.totalMass).toBeLessThan(1);
    // a point's motion is interpolated between nodes
    const at = motionAt(modes, 0.1, 0.1);
    expect(at?.length).toBe(6 * modes.count);
    expect(motionAt(modes, 0.22, 0.1)).toBeNull();
  });

  it("point flexibility is symmetric, positive, and agrees with a load spread over a small square", () => {
    const held = { ...panel, edge: { kind: "hinged" } as const };
    const system = panelSystem(held, opened(panelMesh(held, 0.012)));
    const points = [
      [0.15, 0.1],
      [0.1, 0.05],
    ] as const;
    const f = opened(pointFlexibility(system, points));
    for (let i = 0; i < 12; i++) {
      expect(f[13 * i]).toBeGreaterThan(0);
      for (let j = 0; j < 12; j++) expect(f[12 * i + j]).toBe(f[12 * j + i]);
    }
    const small = Float64Array.of(0.1495, 0.0995, 0.1505, 0.0995, 0.1505, 0.1005, 0.1495, 0.1005);
    const spread = opened(
      panelStatic(system, [{ polygon: small, force: [0, 0, 1], couple: [0, 0, 0] }], points),
    );
    expect(spread.points[2] / f[2 * 12 + 2]).toBeCloseTo(1, 2);
    expect(spread.energy).toBeGreaterThan(0);
  });

  it("an elastic edge lies between hinged without in-plane hold and clamped, and an open stretch softens it", () => {
    const lowest = (edge: Panel["edge"]): number => {
      const p = { ...panel, dome: null, edge };
      return opened(panelModes(panelSystem(p, opened(panelMesh(p, 0.015))), 1, quiet)).omega[0];
    };
    const elastic = lowest(rimEdge(side));
    expect(elastic).toBeLessThan(lowest({ kind: "clamped" }));
    expect(
      lowest({ kind: "elastic", rotation: 0, normal: 1, tangential: 1, ring: null, open: [], held: [] }),
    ).toBeLessThan(elastic);
    expect(lowest(rimEdge({ ...side, open: [Float64Array.of(0.3, 0, 0.3, 0.2)] }))).toBeLessThan(elastic);
  });

  it("gives each rib node the turn of its section, but not where two ribs cross", () => {
    const flat = { ...panel, dome: null };
    const system = panelSystem(flat, opened(panelMesh(flat, 0.012)));
    const ribNodes = system.mesh.ribs.reduce((sum, chain) => sum + chain.length, 0);
    const shared = system.mesh.ribs[0].filter((node) => system.mesh.ribs[1].includes(node)).length;
    expect(shared).toBe(1);
    expect(system.stiffness.n).toBe(2 * system.mesh.nodes.length + ribNodes - 2 * shared);
  });

  it("holds the plate still where a block is glued to it, and stiffens it", () => {
    const flat = { ...panel, dome: null, ribs: [], patches: [] };
    const block = Float64Array.of(0, 0.06, 0.03, 0.06, 0.03, 0.14, 0, 0.14);
    const glued = { ...flat, edge: rimEdge({ ...side, held: [block] }) };
    const bare = { ...flat, edge: rimEdge(side) };
    const [modes, without] = [glued, bare].map((p) =>
      opened(panelModes(panelSystem(p, opened(panelMesh(p, 0.012))), 3, quiet)),
    );
    expect(modes.omega[0]).toBeGreaterThan(1.01 * without.omega[0]);
    const { nodes } = modes.mesh;
    let inside = 0;
    for (let k = 0; k < nodes.length / 3; k++) {
      if (nodes[3 * k] > 0.0301 || Math.abs(nodes[3 * k + 1] - 0.1) > 0.0401) continue;
      inside++;
      for (let m = 0; m < 6; m++) expect(modes.shapes[6 * k + m]).toBe(0);
    }
    expect(inside).toBeGreaterThan(8);
  });

  it("refuses loads and points off the plate", () => {
    const held = { ...panel, edge: { kind: "hinged" } as const };
    const system = panelSystem(held, opened(panelMesh(held, 0.02)));
    expect(panelStatic(system, [], [[1, 1]])).toMatchObject({ ok: false, reason: "point-outside" });
    const off = { polygon: Float64Array.of(1, 1, 2, 1, 2, 2), force: [0, 0, 1], couple: [0, 0, 0] } as const;
    expect(panelStatic(system, [off], [])).toMatchObject({ ok: false, reason: "load-outside" });
  });
});
