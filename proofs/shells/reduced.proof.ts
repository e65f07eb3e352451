/**
 * The reduced body against full solves of the changed body, on a coarse mesh of a body of our own invention. No source but
 * the full model: it tells what the reduction costs, not that the model is right.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { lowestModes, modesBelow, opened, quiet } from "#engine/numerics";
import {
  type BodyPart,
  type BodyShellSpec,
  bodyChange,
  bodyMesh,
  bodyStatic,
  bodySystem,
  changedMatrices,
  type Panel,
  reduceBody,
  solveReduced,
  stringLoadFigures,
  stringLoads,
} from "#engine/shells";
import { wasmKernels } from "#kernels";
import { guitarBody } from "../../engine/shells/body/body.fixture.ts";
import { seatedPanel } from "../../engine/shells/body/plateSeat.ts";

const ctx = { ...quiet, kernels: wasmKernels };
const toFrequency = 1200;
const spec = guitarBody();
const mesh = opened(bodyMesh(spec, { top: 0.016, back: 0.016, side: 0.026 }));
const system = opened(bodySystem(spec, mesh));

const load = {
  pulls: [{ crown: { x: 0.19, y: 0, height: 0.014 }, nut: [0.86, 0, 0.012] as const, tension: 100 }],
  footprint: spec.top!.patches[0]!.polygon,
  saddle: { x: 0.19, y: 0, height: 0 },
};

type Change = (factor: number) => BodyShellSpec;
const panel =
  (which: "top" | "back", change: (p: Panel, f: number) => Panel): Change =>
  (f) => ({ ...spec, [which]: change(spec[which]!, f) });
const height = (which: "top" | "back", rib: number): Change =>
  panel(which, (p, f) => ({
    ...p,
    ribs: p.ribs.map((r, i) =>
      i === rib ? { ...r, heights: r.heights.map(([s, h]) => [s, h * f] as const) } : r,
    ),
  }));
const changes: Readonly<
  Record<string, { parts: BodyPart[]; knots: number[]; change: Change; sees: string[] }>
> = {
  x1: { parts: ["top"], knots: [0.6, 0.8, 1.4], change: height("top", 0), sees: ["x2"] },
  x2: { parts: ["top"], knots: [0.6, 0.8, 1.4], change: height("top", 1), sees: ["x1"] },
  ladder: { parts: ["back"], knots: [0.6, 0.8, 1.4], change: height("back", 0), sees: [] },
  thickness: {
    parts: ["top", "rim"],
    knots: [0.8, 0.9, 1.2],
    change: panel("top", (p, f) => ({ ...p, thickness: (p.thickness as number) * f })),
    sees: [],
  },
  along: {
    parts: ["top"],
    knots: [1.3],
    change: panel("top", (p, f) => ({ ...p, wood: { ...p.wood, EL: p.wood.EL * f } })),
    sees: [],
  },
  density: {
    parts: ["top"],
    knots: [1.3],
    change: panel("top", (p, f) => ({ ...p, wood: { ...p.wood, density: p.wood.density * f } })),
    sees: [],
  },
  sides: {
    parts: ["rim"],
    knots: [1.3],
    change: (f) => ({
      ...spec,
      sides: {
        ...spec.sides!,
        plies: spec.sides!.plies.map((p) => ({ ...p, material: { ...p.material, EL: p.material.EL * f } })),
      },
    }),
    sees: [],
  },
};

/** Elastic eigenvalues of the body with another spec on the same mesh: all elements and the whole factor anew. */
function full(after: BodyShellSpec, count: number): Float64Array {
  const seated = {
    ...mesh,
    topPanel: opened(seatedPanel(after, "top")),
    backPanel: opened(seatedPanel(after, "back")),
  };
  const { stiffness, mass, group } = opened(bodySystem(after, seated));
  const shift = (2 * Math.PI * 25) ** 2;
  return opened(lowestModes(stiffness, mass, { count: count + 6, group, shift }, ctx)).values.subarray(6);
}

function reduced(corrections: number, only: readonly string[] = Object.keys(changes)) {
  return opened(
    reduceBody(
      system,
      [],
      toFrequency,
      only.map((id) => {
        const { parts, knots, change, sees } = changes[id]!;
        return {
          id,
          // a whole plate has more to correct than a brace
          corrections: id === "thickness" ? 1.5 * corrections : corrections,
          probes: corrections > 0 ? 3 : 0,
          borrows: null,
          sees,
          knots: knots.map((factor) => ({
            factor,
            changes: opened(bodyChange(system, change(factor), parts)),
          })),
        };
      }),
      load,
      ctx,
    ),
  );
}

const worst = (found: Float64Array, wanted: Float64Array): number =>
  wanted.reduce((most, v, i) => Math.max(most, Math.abs(Math.sqrt(found[i]! / v) - 1)), 0);

describe("the reduced body", () => {
  let body: ReturnType<typeof reduced>;
  beforeAll(() => {
    body = reduced(12);
  }, 120_000);

  it("is exact where nothing is changed", () => {
    const found = opened(solveReduced(body.model, [], 30, wasmKernels));
    expect(worst(found.values, full(spec, 30))).toBeLessThan(1e-8);
    expect(Math.max(...found.error)).toBe(0);
  });

  for (const [id, factor] of [
    ["x1", 0.7],
    ["x1", 1.3],
    ["ladder", 0.7],
    ["ladder", 1.3],
    ["thickness", 0.9],
    ["thickness", 1.15],
    ["along", 1.2],
    ["density", 1.1],
    ["sides", 1.3],
  ] as const) {
    it(`meets the full solve within 0.3 % in the first 30 modes: ${id} x ${factor}`, () => {
      const found = opened(solveReduced(body.model, [{ parameter: id, factor }], 30, wasmKernels));
      const wanted = full(changes[id]!.change(factor), 30);
      const error = worst(found.values, wanted);
      expect(error).toBeLessThan(3e-3);
      // the change itself is far larger than what is left of it
      expect(worst(body.model.values, wanted)).toBeGreaterThan(4 * error);
    });
  }

  it("meets the full solve when two crossing braces change together, each seeing the other's corrections", () => {
    const point = [
      { parameter: "x1", factor: 0.7 },
      { parameter: "x2", factor: 0.7 },
    ];
    const both: BodyShellSpec = { ...changes.x1!.change(0.7) };
    const after = {
      ...both,
      top: {
        ...both.top!,
        ribs: both.top!.ribs.map((r, i) => (i === 1 ? changes.x2!.change(0.7).top!.ribs[1]! : r)),
      },
    };
    const found = opened(solveReduced(body.model, point, 30, wasmKernels));
    expect(worst(found.values, full(after, 30))).toBeLessThan(4e-3);
  });

  it("needs its corrections: with nominal modes alone the same change is missed several times as far", () => {
    const plain = reduced(0, ["x1"]);
    const point = [{ parameter: "x1", factor: 0.7 }];
    const wanted = full(changes.x1!.change(0.7), 30);
    const error = worst(opened(solveReduced(body.model, point, 30, wasmKernels)).values, wanted);
    expect(worst(opened(solveReduced(plain.model, point, 30, wasmKernels)).values, wanted)).toBeGreaterThan(
      4 * error,
    );
  });

  it("estimates its error within the right order: not below a third of it, not above twelve times", () => {
    let [least, most] = [Number.POSITIVE_INFINITY, 0];
    for (const [id, factor] of [
      ["x1", 0.6],
      ["x1", 0.7],
      ["ladder", 0.7],
      ["thickness", 1.15],
      ["along", 1.25],
    ] as const) {
      const found = opened(solveReduced(body.model, [{ parameter: id, factor }], 30, wasmKernels));
      const error = worst(found.values, full(changes[id]!.change(factor), 30));
      const ratio = Math.max(...found.error) / error;
      least = Math.min(least, ratio);
      most = Math.max(most, ratio);
    }
    expect(least).toBeGreaterThan(1 / 3);
    expect(most).toBeLessThan(12);
  });

  it("has the exact sensitivities phi'(K_p - w2 M_p)phi: central differences of the full solve agree", () => {
    const found = opened(
      modesBelow(
        system.stiffness,
        system.mass,
        { to: (2 * Math.PI * 700) ** 2, group: system.group, shift: (2 * Math.PI * 25) ** 2 },
        ctx,
      ),
    );
    const count = found.values.length - 6;
    for (const id of ["x1", "thickness", "density", "sides"]) {
      const step = 2e-3;
      const { change } = changes[id]!;
      const [low, high] = [full(change(1 - step), count), full(change(1 + step), count)];
      const term = body.model.terms.find((t) => t.parameter === id)!;
      for (let i = 0; i < count; i++) {
        const near = [i - 1, i + 1].some(
          (j) => Math.abs((body.model.values[j] ?? Infinity) / body.model.values[i]! - 1) < 0.01,
        );
        if (near) continue; // a close pair turns: its derivative is that of the pair
        const at = ((6 + i) * (7 + i)) / 2 + 6 + i;
        let slope = 0;
        term.factors.forEach((own, k) => {
          let w = 1 / (own - 1);
          term.factors.forEach((other, j) => {
            if (j !== k) w *= (1 - other) / (own - other);
          });
          slope += w * (term.stiffness[k]![at]! - body.model.values[i]! * term.mass[k]![at]!);
        });
        const difference = (high[i]! - low[i]!) / (2 * step);
        expect(Math.abs(slope - difference) / body.model.values[i]!, `${id}, mode ${i + 1}`).toBeLessThan(
          2e-4 + 0.01 * Math.abs(difference / body.model.values[i]!),
        );
      }
    }
  });

  it("answers the string load as the static solution does", () => {
    const { answers, columns } = opened(solveReduced(body.model, [], 1, wasmKernels));
    const figure = (row: number): number =>
      columns.reduce((sum, c, i) => sum + body.figures[row * body.model.count + c]! * answers[i]!, 0);
    const [solved] = opened(bodyStatic(system, [stringLoads(system, load.pulls, load.footprint)], ctx));
    const wanted = opened(
      stringLoadFigures(system, solved!, { ...load, nut: [0.86, 0, 0.012], block: "neck block" }),
    );
    expect(figure(0) / wanted.bridgeRotation).toBeCloseTo(1, 4);
    expect(figure(1) / wanted.saddleRise).toBeCloseTo(1, 3);
  });

  it("adds changes to the whole matrices as a fresh assembly has them, blocks and both plates included", () => {
    for (const id of ["x1", "ladder", "thickness", "sides"]) {
      const { parts, change } = changes[id]!;
      const after = change(1.2);
      const found = changedMatrices(system, opened(bodyChange(system, after, parts)));
      const seated = {
        ...mesh,
        topPanel: opened(seatedPanel(after, "top")),
        backPanel: opened(seatedPanel(after, "back")),
      };
      const wanted = opened(bodySystem(after, seated));
      for (const which of ["stiffness", "mass", "lossStiffness"] as const) {
        const [a, b, was] = [found[which].values, wanted[which].values, system[which].values];
        const scale = wanted[which].values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
        let [gap, moved] = [0, 0];
        a.forEach((v, i) => {
          gap = Math.max(gap, Math.abs(v - b[i]!));
          moved = Math.max(moved, Math.abs(was[i]! - b[i]!));
        });
        expect(gap / scale, `${id}, ${which}`).toBeLessThan(1e-12);
        if (which === "stiffness") expect(moved / scale, id).toBeGreaterThan(1e-6);
      }
    }
  });

  it("says which parameter it does not know", () => {
    const solved = solveReduced(body.model, [{ parameter: "x9", factor: 1.1 }], 5);
    expect(solved.ok ? "" : solved.detail).toContain("x9");
  });
});
