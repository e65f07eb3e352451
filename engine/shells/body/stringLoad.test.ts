import { beforeAll, describe, expect, it } from "vitest";
import { opened, quadraticForms, quiet, symmetricMultiply } from "#engine/numerics";
import { guitarBody } from "./body.fixture.ts";
import { bodyMesh } from "./bodyMesh.ts";
import type { BodySystem, SpringTerm } from "./bodyModel.ts";
import { bodySystem, rigidMotions } from "./bodySystem.ts";
import { bodyBuckling } from "./bucklingBody.ts";
import { bodyForces } from "./geometricForces.ts";
import { bodyGeometric } from "./geometricStiffness.ts";
import { loadedSystem } from "./geometricStrung.ts";
import { stringLoadFigures } from "./staticFigures.ts";
import { type StringPull, stringLine, stringLoads, stringTerms } from "./staticLoads.ts";
import { type BodyStatic, bodyStatic } from "./staticSolution.ts";

const spec = guitarBody();
const footprint = spec.top?.patches[0].polygon ?? new Float64Array(0);
const strings = (tension: number): StringPull[] =>
  [-0.025, -0.005, 0.015].map((y) => ({
    crown: { x: 0.185, y, height: 0.014 },
    nut: [0.86, 0.7 * y, 0.012],
    tension,
  }));

let system: BodySystem;
let loaded: BodyStatic;
let terms: SpringTerm[];
beforeAll(() => {
  const mesh = opened(bodyMesh(spec, { top: 0.03, back: 0.035, side: 0.035 }));
  system = opened(bodySystem(spec, mesh));
  loaded = opened(bodyStatic(system, [stringLoads(system, strings(200), footprint)], quiet))[0];
  terms = opened(stringTerms(system, strings(200)));
}, 60_000);

/** x' (KG + strings) x. */
function form(
  kg: Parameters<typeof quadraticForms>[0],
  springs: readonly SpringTerm[],
  x: Float64Array,
): number {
  let sum = quadraticForms(kg, x, 1)[0];
  for (const { stiffness, row, weight } of springs) {
    const stretch = row.reduce((s, r, p) => s + weight[p] * x[r], 0);
    sum += stiffness * stretch ** 2;
  }
  return sum;
}

describe("the free body under its strings", () => {
  it("is loaded in equilibrium and solved in every node", () => {
    for (const v of loaded.resultant) expect(Math.abs(v)).toBeLessThan(1e-10 * 600);
    expect(loaded.residual).toBeLessThan(1e-9);
    expect(loaded.energy).toBeGreaterThan(0);
  });

  it("carries the pull of the strings along the neck and nothing besides", () => {
    const axis = [0.86 - 0.505, 0, 0.006 + 0.002];
    const size = Math.hypot(...axis);
    const pull = strings(200).reduce((sum, one) => {
      const { along } = stringLine(system, one);
      return sum + one.tension * along.reduce((s, v, k) => s + (v * axis[k]) / size, 0);
    }, 0);
    for (const force of bodyForces(system, loaded.motion).neck) expect(force / -pull).toBeCloseTo(1, 6);
  });

  it("rolls the bridge toward the nut: up behind it, down before it", () => {
    const found = opened(
      stringLoadFigures(system, loaded, {
        footprint,
        saddle: { x: 0.185, y: 0, height: 0.014 },
        nut: [0.86, 0, 0.01],
        block: "neck block",
      }),
    );
    expect(found.bridgeRotation).toBeGreaterThan(0);
    expect(found.topGreatest.rise).toBeGreaterThan(0);
    expect(found.topLeast.rise).toBeLessThan(0);
    expect(found.topGreatest.x).toBeLessThan(found.topLeast.x);
    // the strings draw the nut up, towards the crowns' side
    expect(found.nut[2]).toBeGreaterThan(0);
  });

  it("answers loads A and B alike: the work of A on B's motions is that of B on A's", () => {
    const a = stringLoads(system, strings(200), footprint);
    const press = (force: number) => ({
      kind: "point" as const,
      at: { part: "top" as const, x: 0.3, y: 0.05, height: 0 },
      force: [0, 0, force] as const,
      couple: [0, 0, 0] as const,
    });
    const lift = { ...press(1), at: { part: "back" as const, x: 0.3, y: 0.05, height: 0 } };
    const both = opened(bodyStatic(system, [a, [press(-1), lift], [...a, press(-1), lift]], quiet));
    const cross = both[2].energy - both[0].energy - both[1].energy;
    expect(Math.abs(cross)).toBeGreaterThan(1e-6 * both[0].energy);
    // A.B by A's motion: the work of B's two forces, opposite but not in one line for a domed box
    const x = both[0].rows;
    const kb = symmetricMultiply(system.stiffness, both[1].rows);
    expect(x.reduce((s, v, i) => s + v * kb[i], 0) / cross).toBeCloseTo(1, 6);
  });
});

describe("the strung body's geometric stiffness", () => {
  it("lets body and strings turn as a whole with less than a hundredth of the work of the body's alone", () => {
    const kg = bodyGeometric(system, bodyForces(system, loaded.motion), loaded.motion);
    const rigid = rigidMotions(system.layout.rowMotion, system.layout.places);
    for (const c of [4, 5]) {
      const turn = rigid.subarray(c * system.n, (c + 1) * system.n);
      const alone = form(kg, [], turn);
      expect(alone).toBeLessThan(0);
      expect(Math.abs(form(kg, terms, turn))).toBeLessThan(0.01 * Math.abs(alone));
    }
  });

  it("buckles at half the factor under twice the pull, where K + factor KG has lost its stiffness", () => {
    const once = bodyGeometric(system, bodyForces(system, loaded.motion), loaded.motion);
    const found = opened(bodyBuckling(system, once, terms, 2, quiet));
    expect(found.factors[0]).toBeGreaterThan(1);
    expect(found.factors[1]).toBeGreaterThanOrEqual(found.factors[0]);
    const twice = { ...once, values: once.values.map((v) => 2 * v) };
    const half = opened(
      bodyBuckling(
        system,
        twice,
        terms.map((t) => ({ ...t, stiffness: 2 * t.stiffness })),
        1,
        quiet,
      ),
    );
    expect((2 * half.factors[0]) / found.factors[0]).toBeCloseTo(1, 8);
    const shape = found.shapes.subarray(0, system.n);
    const stiff = quadraticForms(system.stiffness, shape, 1)[0];
    expect((-found.factors[0] * form(once, terms, shape)) / stiff).toBeCloseTo(1, 5);
    const near = loadedSystem(system, { geometric: once, strings: terms }, found.factors[0]);
    expect(
      Math.abs(form(near.stiffness, near.springs.slice(system.springs.length), shape)) / stiff,
    ).toBeLessThan(1e-5);
  });
});
