/** Modes of air in rigid closed boxes by the quadratic wedges, against closed forms. */
import { describe, expect, it } from "vitest";
import { cavityModes } from "#engine/air";
import { opened, quiet } from "#engine/numerics";
import { proof } from "#proofs/harness";
import { air, boxModes, boxSpec } from "./boxCavity.ts";
import { ellipsePolygon } from "./shapes.ts";

const box = { lengths: [0.5, 0.4, 0.1], hole: null } as const;
const hertz = (omega: Float64Array) => Array.from(omega, (w) => w / (2 * Math.PI));

proof(
  "lowest modes of a rigid box of 0.5 x 0.4 x 0.1 m, lengthwise, across, both, twice lengthwise, and in depth",
  {
    source: "CAV (cav.rect)",
    quoted: [344, 430, 550.6687, 688, 1720],
    relTol: 4e-4,
    because: "elements of 60 mm: observed 1.3e-4 at 688 Hz; four layers of second degree: 2.6e-4 in depth",
    mustNotice: { speed: 1.001, length: 1.001, depth: 1.001 },
  },
  (slip) => {
    const length = 0.5 * (slip.length ?? 1);
    const depth = 0.1 * (slip.depth ?? 1);
    const speed = { air: { ...air, soundSpeed: 344 * (slip.speed ?? 1) } };
    const flat = boxModes({ lengths: [length, 0.4, depth], hole: null }, { ...speed, toFrequency: 700 });
    // In a narrow box the depth mode is the lowest.
    const narrow = boxModes(
      { lengths: [0.06, 0.05, depth], hole: null },
      { ...speed, toFrequency: 1800, layers: 4 },
    );
    return [...hertz(flat.omega).slice(1, 5), hertz(narrow.omega)[1]!];
  },
);

/** Zeros of J'_m, m = 1, 2, 0, 3, 4, 1: those with m > 0 count twice. */
const zeros = [1.841184, 1.841184, 3.054237, 3.054237, 3.831706, 4.201189, 4.201189, 5.317553, 5.317553];

proof(
  "modes of a rigid cylinder of radius 0.2 m: k R are the zeros of J'_m (m > 0 in pairs)",
  {
    source: "CAV (zeros of J'_m from memory)",
    quoted: zeros,
    relTol: 5e-4,
    because: "elements of 35 mm with curved edges: observed 2e-5 for the first pair, 3e-4 for the last",
    mustNotice: { radius: 1.001, speed: 1.001 },
  },
  (slip) => {
    const outline = ellipsePolygon(0.2, 0.2, 720).map((v) => v * (slip.radius ?? 1));
    const { omega } = opened(
      cavityModes({ ...boxSpec(box), outline, toFrequency: 1500, size: 0.035 }, quiet),
    );
    return Array.from(omega.slice(1, 10), (w) => ((w * 0.2) / air.soundSpeed) * (slip.speed ?? 1));
  },
);

describe("modes of the rigid box", () => {
  it("come from above, with the fourth order in the element size, and come to nothing less than the mode they mean", () => {
    const exact: number[] = [];
    for (let m = 0; m < 8; m++)
      for (let n = 0; n < 8; n++) exact.push((air.soundSpeed / 2) * Math.hypot(m / 0.5, n / 0.4));
    exact.sort((p, q) => p - q);
    const error = (size: number) =>
      hertz(boxModes(box, { size, toFrequency: 1200 }).omega)
        .slice(1, 12)
        .map((f, i) => f / exact[i + 1]! - 1);
    const [coarse, fine] = [error(0.08), error(0.04)];
    for (const e of [...coarse, ...fine]) expect(e).toBeGreaterThan(-1e-9);
    const order = Math.log2(Math.max(...coarse) / Math.max(...fine));
    // Frequencies of elements of degree 2: twice the degree.
    expect(order).toBeGreaterThan(3.4);
    expect(order).toBeLessThan(4.8);
  });
});
