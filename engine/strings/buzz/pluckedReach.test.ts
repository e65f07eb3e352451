import { describe, expect, it } from "vitest";
import { pluckedReach } from "./pluckedReach.ts";

/** The first shape, odd about both ends. */
function shape(length: number, fromSaddle: number, x: number): number {
  const period = 2 * length;
  const at = ((x % period) + period) % period;
  const inside = at <= length ? at : period - at;
  const corner = length - fromSaddle;
  const height = inside <= corner ? inside / corner : (length - inside) / fromSaddle;
  return at <= length ? height : -height;
}

describe("a plucked string", () => {
  it("reaches no further than the parallelogram of its two travelling halves, and touches it", () => {
    for (const fromSaddle of [0.05, 0.13, 0.2, 0.33, 0.6])
      for (const place of [0.01, 0.04, 0.13, 0.3, 0.5, 0.64]) {
        const length = 0.65;
        let most = 0;
        for (let step = 0; step <= 4000; step++) {
          const travelled = (2 * length * step) / 4000;
          const y =
            (shape(length, fromSaddle, place - travelled) + shape(length, fromSaddle, place + travelled)) / 2;
          most = Math.max(most, Math.abs(y));
        }
        const reach = pluckedReach(length, { fromSaddle, peak: 1 }, place);
        expect(most).toBeLessThanOrEqual(reach + 1e-12);
        expect(most).toBeGreaterThan(reach - 0.01);
      }
  });

  it("comes down as far from the stopped end as it was let go from the saddle", () => {
    expect(pluckedReach(0.65, { fromSaddle: 0.12, peak: 0.002 }, 0.12)).toBeCloseTo(0.002, 15);
    expect(pluckedReach(0.65, { fromSaddle: 0.12, peak: 0.002 }, 0.06)).toBeCloseTo(0.001, 15);
    expect(pluckedReach(0.65, { fromSaddle: 0.12, peak: 0.002 }, 0)).toBe(0);
    expect(pluckedReach(0.65, { fromSaddle: 0.12, peak: 0.002 }, 0.65)).toBe(0);
  });

  it("cannot be plucked beyond its ends", () => {
    for (const fromSaddle of [0, 0.65, -1])
      expect(pluckedReach(0.65, { fromSaddle, peak: 1 }, 0.1)).toBeNaN();
  });
});
