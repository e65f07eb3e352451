import { describe, expect, it } from "vitest";
import { opened, quiet } from "#engine/numerics";
import { guitarBody } from "./body.fixture.ts";
import { bodyMesh } from "./bodyMesh.ts";
import { bodySystem, rigidMotions } from "./bodySystem.ts";
import { grownBody } from "./growth/grownBody.ts";
import { growthLoad } from "./growth/growthLoad.ts";
import { type StringPull, stringLine, stringLoads } from "./staticLoads.ts";
import { bodyStatic } from "./staticSolution.ts";
import { bodyGauge } from "./stress/bodyStress.ts";
import { glueLine } from "./stress/glueLine.ts";
import { plateStrains } from "./stress/plateStress.ts";
import { actionChanges, tuningLoad, unitAnswers } from "./tuningLoad.ts";

const movement = { moisture: { along: 0.005, across: 0.15 }, heat: { along: 4e-6, across: 3e-5 } };
const bare = guitarBody();
const top = { ...bare.top!, wood: { ...bare.top!.wood, movement } };
const spec = { ...bare, top, back: { ...bare.back!, wood: { ...bare.back!.wood, movement } } };
const footprint = top.patches[0].polygon;
const pulls: StringPull[] = [-0.02, 0, 0.02].map((y, i) => ({
  crown: { x: 0.19, y, height: 0.013 },
  nut: [0.86, 0.8 * y, 0.004],
  tension: 100 + 30 * i,
}));
const tensions = pulls.map((p) => p.tension);
const system = opened(bodySystem(spec, opened(bodyMesh(spec, { top: 0.02, back: 0.025, side: 0.04 }))));
const units = opened(unitAnswers(system, pulls, footprint, [], quiet));
const pulled = tuningLoad(units.strings, tensions);

describe("a body under its strings one by one", () => {
  it("adds up to what all of them do together", () => {
    const [whole] = opened(bodyStatic(system, [stringLoads(system, pulls, footprint)], quiet));
    const size = Math.max(...whole.motion.map(Math.abs));
    pulled.motion.forEach((v, k) => {
      expect(Math.abs(v - whole.motion[k])).toBeLessThan(1e-8 * size);
    });
  });

  it("raises the strings over the fret when they pull", () => {
    const frets = pulls.map(({ nut }) => [0.525, nut[1], 0.003] as const);
    const change = opened(actionChanges(system, pulled, pulls, frets));
    for (const rise of change) expect(rise).toBeGreaterThan(1e-5);
  });
});

it("tells no change of action when the whole instrument turns and shifts", () => {
  const rigid = rigidMotions(system.layout.rowMotion, system.layout.places);
  const rows = new Float64Array(system.n);
  [1e-3, -2e-3, 3e-3, 2e-3, -1e-3, 4e-3].forEach((f, q) => {
    for (let k = 0; k < system.n; k++) rows[k] += f * rigid[q * system.n + k];
  });
  // frets on the strings' own lines, so that a turn moves them as it moves the strings
  const frets = pulls.map((pull) => {
    const { from, to } = stringLine(system, pull);
    const at = (q: 0 | 1 | 2): number => (from[q] + to[q]) / 2;
    return [at(0), at(1), at(2)] as const;
  });
  // the crown stands square to its facet, the string's end plumb over it: some um apart
  for (const change of opened(actionChanges(system, { rows }, pulls, frets)))
    expect(Math.abs(change)).toBeLessThan(1e-7);
});

it("grows into loads that balance by themselves", () => {
  const rows = growthLoad(bodyGauge(grownBody(system, { moisture: 0.03, temperature: 5 })));
  const rigid = rigidMotions(system.layout.rowMotion, system.layout.places);
  const size = rows.reduce((sum, v) => sum + Math.abs(v), 0);
  expect(size).toBeGreaterThan(100);
  for (let q = 0; q < 6; q++) {
    let sum = 0;
    for (let k = 0; k < system.n; k++) sum += rigid[q * system.n + k] * rows[k];
    expect(Math.abs(sum)).toBeLessThan(1e-9 * size);
  }
});

describe("the glue line of the bridge", () => {
  const gauge = bodyGauge(system);
  const found = plateStrains(system, gauge.top!, pulled.motion);
  const line = glueLine(system, gauge.top!, found, pulls, {
    polygon: footprint,
    patches: [0],
    land: 0.9,
    film: { thickness: 1e-4, E: 3e9, G: 1.1e9 },
    through: { top: 0.5e9, bridge: 1e9 },
  })!;

  it("bears the strings' pull in the mean over the glued land", () => {
    const ahead = pulls.reduce((sum, p) => {
      const { along } = stringLine(system, p);
      return sum + p.tension * along[0];
    }, 0);
    expect(line.area).toBeCloseTo(0.9 * 0.03 * 0.16, 12);
    expect(line.pull).toBeCloseTo(ahead, 1);
    expect(line.shear.mean).toBeCloseTo(line.pull / line.area, 6);
  });

  it("is pulled open at the rear as a rigid foot of its length is: 6 M / b l2 and the lift", () => {
    const [l, b] = [0.03, 0.16];
    const even = ((6 * line.couple) / (b * l * l) + line.lift / (b * l)) / 0.9;
    // the tensions are not alike, so that one corner has more than the middle of the edge
    expect(line.peel.straight.value).toBeGreaterThan(even);
    expect(line.peel.straight.value).toBeLessThan(1.4 * even);
    expect(line.peel.straight.x).toBeCloseTo(0.17, 12);
    // a triangle of nearly half the length pulls
    expect(line.peel.perLength / ((even * 0.9 * l) / 4)).toBeCloseTo(1, 1);
  });

  it("opens at the rear edge within a range about the likely value", () => {
    const { edge, meanEdge } = line.peel;
    expect(edge.likely).toBeGreaterThan(meanEdge);
    expect(meanEdge).toBeGreaterThan(0);
    expect(edge.low).toBeLessThan(edge.likely);
    expect(edge.high).toBeGreaterThan(edge.likely);
    expect(edge.high / edge.low).toBeLessThan(3);
  });
});
