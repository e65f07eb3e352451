/**
 * A rib moved in the reduced model against the panel meshed anew along the rib's new line: nothing but the change of the line is common
 * to the two. A hinged sheet of our own invention; no source but the full model.
 */
import { describe, expect, it } from "vitest";
import { factorize, lowestModes, opened, quiet, solveFactored } from "#engine/numerics";
import {
  heldGround,
  heldRib,
  laidTerm,
  panelMesh,
  panelSystem,
  ribParameter,
  solveReduced,
  trimmedToRib,
} from "#engine/shells";
import { wasmKernels } from "#kernels";
import { reduceStructure } from "../../engine/shells/reduced/reduceStructure.ts";
import { panelRib, reduciblePanel, ribbedPanel } from "../../engine/shells/reduced/ribbedPanel.fixture.ts";
import { plateGround } from "../../engine/shells/reduced/ribGround.ts";

const ctx = { ...quiet, kernels: wasmKernels };
const size = 0.011;
const reach = 0.025;
const watched = 12;
const id = "rib";

const { system, plate } = reduciblePanel(ribbedPanel(0, 0), size);
const nominal = opened(
  lowestModes(system.stiffness, system.mass, { count: 40, shift: 0, group: system.group }, ctx),
);
const ground = plateGround(plate, 0, reach + 0.004 + size);
const held = opened(heldGround(ground, system, ctx));
const side = (a: number, b = a, more = 0) => panelRib(a * reach, b * reach, more);
const model = (() => {
  const loaded = [-1, -0.5, 0, 0.5, 1].map((f) => side(f, f, reach));
  const factor = opened(factorize(system.stiffness, { group: system.group }, ctx));
  const whole = opened(
    reduceStructure(
      system,
      { rigidCount: 0, values: nominal.values, vectors: nominal.vectors },
      [opened(ribParameter(id, ground, loaded, system.stiffness.n))],
      new Float64Array(0),
      (b, columns) => solveFactored(factor, b, columns),
      ctx,
    ),
  );
  const trained = [side(0), side(-1), side(1), side(-1, 1), side(0, 1), side(0, -1)];
  return opened(trimmedToRib(whole, id, held, trained, { corrections: 48, probes: 8 }, wasmKernels));
})();

function reduced(a: number, b: number): Float64Array {
  const term = opened(laidTerm(opened(heldRib(model, id, held)), panelRib(a, b), wasmKernels));
  return opened(solveReduced(model, [{ parameter: id, factor: 0 }], watched, wasmKernels, [term])).values;
}

function meshedAnew(a: number, b: number): Float64Array {
  const panel = ribbedPanel(a, b);
  const { stiffness, mass, group } = panelSystem(panel, opened(panelMesh(panel, size)));
  return opened(lowestModes(stiffness, mass, { count: watched, shift: 0, group }, ctx)).values;
}

const rms = (x: Float64Array, y: Float64Array): number =>
  Math.sqrt(
    Array.from({ length: watched }, (_, i) => (Math.sqrt(x[i]! / y[i]!) - 1) ** 2).reduce((p, q) => p + q) /
      watched,
  );

describe("a rib moved in the reduced model", () => {
  it("changes nothing where it is laid as it lay", () => {
    expect(rms(reduced(0, 0), nominal.values)).toBeLessThan(2e-5);
  });

  for (const [a, b] of [
    [0.01, 0.01],
    [0, 0.02],
    [-0.012, 0.018],
  ] as const) {
    it(`moves the modes as the panel meshed anew does: ends by ${1e3 * a} and ${1e3 * b} mm`, () => {
      const wanted = meshedAnew(a, b);
      const error = rms(reduced(a, b), wanted);
      expect(error).toBeLessThan(5e-3);
      expect(error).toBeLessThan(0.2 * rms(nominal.values, wanted));
    });
  }
});
