import { describe, expect, it } from "vitest";
import { mirrorPolygon } from "#engine/geometry";
import { type Context, type Outcome, opened, quiet, symmetricMultiply } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { guitarBody } from "./body.fixture.ts";
import { bodyMesh } from "./bodyMesh.ts";
import type { BodySystem } from "./bodyModel.ts";
import { bodyModes } from "./bodyModes.ts";
import type { BodyShellSpec } from "./bodySpec.ts";
import { bodySystem, rigidMotions } from "./bodySystem.ts";

const coarse = { top: 0.02, back: 0.02, side: 0.02 };
const whole = guitarBody();
const fast: Context = { ...quiet, kernels: wasmKernels };

function system(spec: BodyShellSpec): BodySystem {
  return opened(bodySystem(spec, opened(bodyMesh(spec, coarse))));
}
function tried(spec: BodyShellSpec): Outcome<BodySystem> {
  const mesh = bodyMesh(spec, coarse);
  return mesh.ok ? bodySystem(spec, mesh.value) : mesh;
}
const frequencies = (spec: BodyShellSpec, to: number): number[] =>
  Array.from(opened(bodyModes(system(spec), [], to, fast)).omega, (w) => w / (2 * Math.PI));

describe("matrices of the whole body", () => {
  const made = system(whole);
  const r = rigidMotions(made.layout.rowMotion, made.layout.places);

  it("a rigid motion costs no energy", () => {
    const kr = symmetricMultiply(made.stiffness, r, 6);
    const largest = made.stiffness.values.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
    expect(kr.reduce((m, v) => Math.max(m, Math.abs(v)), 0)).toBeLessThan(1e-12 * largest);
  });

  it("mass, first and second moments of the joined matrices are the sums of the parts'", () => {
    const mr = symmetricMultiply(made.mass, r, 6);
    for (let i = 0; i < 6; i++) {
      for (let j = 0; j < 6; j++) {
        let sum = 0;
        for (let k = 0; k < made.n; k++) sum += r[i * made.n + k] * mr[j * made.n + k];
        expect(Math.abs(sum - made.rigidMass[6 * i + j])).toBeLessThan(1e-10 * made.totalMass);
      }
    }
  });

  it("blocks, neck and head weigh what they were given, plates and sides what their wood weighs", () => {
    // neck: mean of its two stations times its length, head and tuners
    const neck = 0.355 * Math.hypot(1, 0.008 / 0.355) * 0.825 + 0.28 + 0.12;
    // the centroids lean off the axis by 2 mm at its end, which shortens them by 1e-4
    expect(Math.abs(made.partMass[3] / neck - 1)).toBeLessThan(2e-4);
    // sides: perimeter x depth x thickness x density, blocks, end pin, rods, linings
    const outline = whole.sides?.outline ?? new Float64Array();
    let area = 0;
    let round = 0;
    for (let i = 0; i < outline.length; i += 2) {
      const j = (i + 2) % outline.length;
      const length = Math.hypot(outline[j] - outline[i], outline[j + 1] - outline[i + 1]);
      const x = (outline[i] + outline[j]) / 2;
      area += length * (0.118 - (0.02 * x) / 0.505);
      round += length;
    }
    const rods = 2 * 1600 * (Math.PI / 4) * (0.009 ** 2 - 0.006 ** 2) * Math.hypot(0.17, 0.093, 0.04);
    // linings stop at the two blocks, 70 mm wide
    const linings = 2 * (round - 0.14) * 0.006 * 0.014 * 420;
    const sides = area * 0.0022 * 780 + 0.15 + 0.08 + 0.01 + rods + linings;
    // mid-line shorter than the outer one by pi t, the lining's by about 2 pi (t + w / 2): under 2 % of the linings, 0.5 % of the sides
    expect(Math.abs(made.partMass[2] / sides - 1)).toBeLessThan(0.012);
  });

  it("the outward flow of a rigid translation is that through the open hole alone", () => {
    const { nodes } = made.mesh.surface;
    const flow = [0, 0, 0];
    for (let k = 0; k < nodes.length / 3; k++) for (let q = 0; q < 3; q++) flow[q] += made.flow[6 * k + q];
    const hole = Math.PI * 0.05 ** 2;
    // the missing patch of surface is the hole: closed surfaces sweep nothing
    expect(Math.abs(flow[2] + hole)).toBeLessThan(0.03 * hole);
    expect(Math.abs(flow[0])).toBeLessThan(0.03 * hole);
    expect(Math.abs(flow[1])).toBeLessThan(1e-3 * hole);
  });
});

describe("modes of the whole body", () => {
  it("keep their frequencies when everything is mirrored", () => {
    const lop = skewed(whole);
    const here = frequencies(lop, 350);
    const there = frequencies(mirrored(lop), 350);
    expect(there.length).toBe(here.length);
    here.forEach((f, k) => {
      // the two meshes are not mirror images of each other
      expect(Math.abs(there[k] / f - 1)).toBeLessThan(0.01);
    });
  });

  it("keep their frequencies when the whole is turned in space", () => {
    const level = { ...skewed(whole), heights: { depthAtTail: 0.1, depthAtNeck: 0.1, length: 0.505 } };
    const here = frequencies(turned(level, 0), 300);
    const there = frequencies(turned(level, 0.7), 300);
    expect(there.length).toBe(here.length);
    here.forEach((f, k) => {
      // the mesher seeds along x and y: two meshes of 20 mm
      expect(Math.abs(there[k] / f - 1)).toBeLessThan(0.015);
    });
  });

  it("exist for every state of the build", () => {
    const { top } = whole;
    const bare = { ...whole, blocks: [], neck: null, rods: [], masses: [], springs: [] };
    const states: [string, BodyShellSpec][] = [
      [
        "free top without braces",
        { ...bare, back: null, sides: null, top: top && { ...top, ribs: [], patches: [] } },
      ],
      ["free braced top", { ...bare, back: null, sides: null }],
      ["top on the rim", { ...bare, back: null, blocks: whole.blocks }],
      ["back on the rim", { ...bare, top: null, blocks: whole.blocks }],
      ["closed box", { ...bare, blocks: whole.blocks, masses: whole.masses.slice(1) }],
      ["with its neck, no strings", { ...whole, springs: [] }],
      ["strung, held at neck and tail", { ...whole, support: "neck and tail" }],
    ];
    for (const [name, spec] of states) {
      const found = frequencies(spec, 250);
      expect(found.length, name).toBeGreaterThan(0);
      expect(found[0], name).toBeGreaterThan(5);
    }
  });
});

describe("impossible bodies", () => {
  const refused = (spec: BodyShellSpec, reason: string, name: RegExp): void => {
    const outcome = tried(spec);
    expect(outcome.ok).toBe(false);
    if (outcome.ok) return;
    expect(outcome.reason).toBe(reason);
    expect(outcome.detail).toMatch(name);
  };
  it("a back that comes through the top", () => {
    refused({ ...whole, heights: { ...whole.heights, depthAtNeck: -0.02 } }, "too-shallow", /back/);
  });
  it("a block outside the body", () => {
    const far = { ...whole.blocks[0], centre: [0.7, 0.3, -0.05] as const };
    refused({ ...whole, blocks: [far, whole.blocks[1]] }, "block-outside", /neck block/);
  });
  it("a block that touches nothing", () => {
    const inside = {
      name: "lost block",
      centre: [0.2, 0, -0.06] as const,
      size: [0.03, 0.03, 0.02] as const,
      mass: 0.1,
    };
    refused({ ...whole, blocks: [...whole.blocks, inside] }, "block-touches-nothing", /lost block/);
  });
  it("a back without sides hangs on nothing", () => {
    refused(
      { ...whole, sides: null, blocks: [], neck: null, rods: [], masses: [], springs: [] },
      "loose-part",
      /top|back/,
    );
  });
  it("a brace without weight", () => {
    const back = whole.back;
    if (back === null) throw new Error("the fixture has a back");
    const weightless = { ...back.ribs[0], material: { ...back.ribs[0].material, density: 0 } };
    refused({ ...whole, back: { ...back, ribs: [weightless] } }, "bad-material", /brace 1 of the back/);
  });
  it("a top without thickness", () => {
    refused({ ...whole, top: whole.top && { ...whole.top, thickness: 0 } }, "bad-material", /top/);
  });
  it("a neck on a block that is not there", () => {
    refused({ ...whole, neck: whole.neck && { ...whole.neck, attach: "heel" } }, "neck-unattached", /heel/);
  });
});

/** The body with a lopsided brace and grain, so that a mirror image differs from it. */
function skewed(spec: BodyShellSpec): BodyShellSpec {
  const { top, back } = spec;
  return {
    ...spec,
    top: top && { ...top, grainAngle: 0.3, ribs: top.ribs.slice(1) },
    back: back && { ...back, grainAngle: -0.2, ribs: back.ribs.slice(0, 2) },
    rods: spec.rods.slice(0, 1),
  };
}

function turned(spec: BodyShellSpec, angle: number): BodyShellSpec {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const chain = (p: Float64Array): Float64Array =>
    p.map((_, k) => (k % 2 === 0 ? c * p[k] - s * p[k + 1] : s * p[k - 1] + c * p[k]));
  const panel = (p: BodyShellSpec["top"]): BodyShellSpec["top"] =>
    p && {
      ...p,
      outline: chain(p.outline),
      holes: p.holes.map(chain),
      grainAngle: p.grainAngle + angle,
      dome: p.dome && {
        ...p.dome,
        apex: [c * p.dome.apex[0] - s * p.dome.apex[1], s * p.dome.apex[0] + c * p.dome.apex[1]],
      },
      ribs: p.ribs.map((rib) => ({ ...rib, path: chain(rib.path) })),
      patches: p.patches.map((q) => ({ ...q, polygon: chain(q.polygon), grainAngle: q.grainAngle + angle })),
    };
  return {
    ...spec,
    top: panel(spec.top),
    back: panel(spec.back),
    sides: spec.sides && { ...spec.sides, outline: chain(spec.sides.outline) },
    // boxes stand along the axes: the turned body goes without
    blocks: [],
    neck: null,
    rods: [],
    masses: [],
    springs: [],
  };
}

function mirrored(spec: BodyShellSpec): BodyShellSpec {
  const panel = (p: BodyShellSpec["top"]): BodyShellSpec["top"] =>
    p && {
      ...p,
      outline: mirrorPolygon(p.outline),
      holes: p.holes.map(mirrorPolygon),
      grainAngle: -p.grainAngle,
      dome: p.dome && { ...p.dome, apex: [p.dome.apex[0], -p.dome.apex[1]] },
      ribs: p.ribs.map((rib) => ({ ...rib, path: rib.path.map((v, k) => (k % 2 ? -v : v)) })),
      patches: p.patches.map((patch) => ({
        ...patch,
        polygon: mirrorPolygon(patch.polygon),
        grainAngle: -patch.grainAngle,
      })),
    };
  const flip = (p: readonly [number, number, number]): [number, number, number] => [p[0], -p[1], p[2]];
  return {
    ...spec,
    top: panel(spec.top),
    back: panel(spec.back),
    sides: spec.sides && { ...spec.sides, outline: mirrorPolygon(spec.sides.outline) },
    blocks: spec.blocks.map((b) => ({ ...b, centre: flip(b.centre) })),
    rods: spec.rods.map((rod) => ({ ...rod, from: flip(rod.from), to: flip(rod.to) })),
    masses: spec.masses.map((m) => ({ ...m, at: flip(m.at) })),
    springs: [],
  };
}
