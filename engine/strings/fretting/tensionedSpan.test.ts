import { describe, expect, it } from "vitest";
import { spanExcess, spanRise, tensionedSpan } from "./tensionedSpan.ts";

const [length, stiffness, tension] = [0.02, 4e-4, 100];
const span = tensionedSpan(length, stiffness, tension);

describe("a span of a tensioned beam", () => {
  it("turns at a far support against sqrt(EI T), and under a small pull as the beam of the textbooks: 4 EI/l and 2 EI/l", () => {
    const long = tensionedSpan(1, stiffness, tension);
    expect(long.near).toBeCloseTo(1, 2);
    expect(Math.abs(long.far)).toBeLessThan(3e-3);
    const slack = tensionedSpan(length, stiffness, stiffness / (5 * length) ** 2);
    const moment = Math.sqrt(stiffness * (stiffness / (5 * length) ** 2));
    // the first order of the pull adds 2 T l/15 and takes T l/30
    expect((slack.near * moment * length) / stiffness).toBeCloseTo(4 + 2 / 15 / 25, 4);
    expect((slack.far * moment * length) / stiffness).toBeCloseTo(2 - 1 / 30 / 25, 4);
  });

  it("meets its end slopes and its ends, and is as much longer as its slopes say", () => {
    const [phi0, phi1] = [0.03, -0.01];
    const n = 20000;
    const rise = Array.from({ length: n + 1 }, (_, i) => spanRise(span, phi0, phi1, (i * length) / n));
    const step = length / n;
    expect(Math.abs(rise[0]!)).toBeLessThan(1e-15);
    expect(Math.abs(rise[n]!)).toBeLessThan(1e-15);
    expect((rise[1]! - rise[0]!) / step).toBeCloseTo(phi0, 4);
    expect((rise[n]! - rise[n - 1]!) / step).toBeCloseTo(phi1, 4);
    let squares = 0;
    for (let i = 0; i < n; i++) squares += (rise[i + 1]! - rise[i]!) ** 2 / step;
    expect(spanExcess(span, phi0, phi1) / (squares / 2)).toBeCloseTo(1, 5);
  });

  it("obeys EI w'''' = T w'' and resists with the moments it claims", () => {
    const [phi0, phi1] = [0.03, -0.01];
    const w = (x: number) => spanRise(span, phi0, phi1, x);
    const h = 2e-4;
    const second = (x: number) => (w(x + h) - 2 * w(x) + w(x - h)) / h ** 2;
    const x = 0.4 * length;
    const fourth = (second(x + h) - 2 * second(x) + second(x - h)) / h ** 2;
    expect((stiffness * fourth) / (tension * second(x))).toBeCloseTo(1, 2);
    const claimed = Math.sqrt(stiffness * tension) * (span.near * phi0 + span.far * phi1);
    // the shape is analytic: it may be carried past its end
    expect((-stiffness * second(0)) / claimed).toBeCloseTo(1, 2);
  });

  it("is its own chord without bending stiffness", () => {
    const thread = tensionedSpan(length, 0, tension);
    expect(spanExcess(thread, 0.03, -0.01)).toBe(0);
    expect(spanRise(thread, 0.03, -0.01, length / 2)).toBe(0);
  });
});
