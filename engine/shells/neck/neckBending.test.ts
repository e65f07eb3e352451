import { expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { type NeckBeam, neckBending } from "./neckBending.ts";
import { reliefOver } from "./reliefOver.ts";

const beam: NeckBeam = {
  x: Float64Array.from([0, 0.18, 0.36]),
  EI: Float64Array.from([600, 450, 330]),
  axisDepth: Float64Array.from([0.0101, 0.0096, 0.0092]),
  jointCompliance: 0,
};
const pull = { tension: 750, heightAtNut: 0.0016, climb: 0.006, pole: 0.29 };
const relief = (bent: { x: Float64Array; rise: Float64Array }): number =>
  reliefOver(bent.x, bent.rise, 0, 0.324);

it("hollows under strings and is straight where a tendon takes their moment back", () => {
  const slack = opened(neckBending(beam, [pull], []));
  expect(relief(slack)).toBeGreaterThan(1e-4);
  expect(slack.rise[400]).toBeGreaterThan(slack.firstRise[400]!);
  const uniform = { ...beam, EI: beam.EI.map(() => 400), axisDepth: Float64Array.from([0.01, 0.01, 0.01]) };
  const level = { ...pull, climb: 0, heightAtNut: 0.002 };
  const balance = { from: 0, to: 0.36, force: 900, depth: 0.01 + (750 * 0.012) / 900, moment: 0 };
  const held = opened(neckBending(uniform, [level], [balance]));
  expect(Math.max(...held.rise.map(Math.abs))).toBeLessThan(1e-12);
});

it("takes a couple where it reaches and only there", () => {
  const bent = opened(neckBending(beam, [], [{ from: 0.1, to: 0.2, force: 0, depth: 0, moment: 5 }]));
  expect(bent.moment[50]).toBe(0);
  expect(bent.moment[160]).toBeCloseTo(-5, 12);
  expect(bent.moment[350]).toBe(0);
  expect(bent.rise[100]).toBe(0);
  expect(bent.criticalFactor).toBe(Number.POSITIVE_INFINITY);
});

it("turns with the body and with a joint that gives, which leaves the relief alone to first order", () => {
  const turned = opened(neckBending(beam, [], [], 0.01));
  expect(turned.rise[400]).toBeCloseTo(0.0036, 12);
  expect(relief(turned)).toBeCloseTo(0, 12);
  const stiff = opened(neckBending(beam, [pull], []));
  const soft = opened(neckBending({ ...beam, jointCompliance: 1e-4 }, [pull], []));
  expect(soft.firstRise[400]! - stiff.firstRise[400]!).toBeCloseTo(
    0.36 * 1e-4 * 750 * (0.0016 + 0.00216 + 0.0101),
    6,
  );
  expect(relief(soft) / relief(stiff)).toBeCloseTo(1, 1);
});

it("is refused where the strings would buckle it", () => {
  const weak = { ...beam, EI: beam.EI.map((v) => v / 100) };
  expect(neckBending(weak, [pull], [])).toMatchObject({ ok: false, reason: "neck-buckles" });
});

it("has its relief from the straightedge: hollow above 0, crowned below", () => {
  const x = Float64Array.from({ length: 101 }, (_, k) => k / 100);
  const line = (sag: number) => x.map((s) => 0.3 * s - 4 * sag * s * (1 - s));
  expect(reliefOver(x, line(2e-4), 0, 1)).toBeCloseTo(2e-4, 12);
  expect(reliefOver(x, line(-1e-4), 0, 1)).toBeCloseTo(-1e-4, 12);
  expect(reliefOver(x, line(2e-4), 0.25, 0.75)).toBeCloseTo(5e-5, 12);
});
