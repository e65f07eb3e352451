/** The outer air of guitar-like bodies: power, and the exchange of source and listener. */
import { describe, expect, it } from "vitest";
import {
  exteriorAt,
  exteriorField,
  exteriorFrequencies,
  exteriorSurface,
  listeningSphere,
} from "#engine/air";
import { opened, quiet } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { bothSurfaces, eggBody, sphereSurface } from "./exteriorShapes.ts";

const density = 1.2;
const soundSpeed = 343;
const withKernels = { ...quiet, kernels: wasmKernels };

describe("a guitar-like body of 700 panels", () => {
  const surface = opened(exteriorSurface(eggBody, 700));
  const panels = surface.triangles.length / 3;
  const centre = (t: number) =>
    [0, 1, 2].map((d) =>
      [0, 1, 2].reduce((s, m) => s + surface.nodes[3 * surface.triangles[3 * t + m] + d] / 3, 0),
    );
  const pattern = (f: (x: number, y: number, z: number, part: number) => number) =>
    Array.from({ length: panels }, (_, t) => {
      const [x, y, z] = centre(t);
      return f(x, y, z, surface.part[t]);
    });
  const patterns = Float64Array.from([
    ...pattern((_x, _y, _z, part) => (part === 3 ? 1 : 0)),
    ...pattern((x, y, _z, part) => (part === 0 ? Math.exp(-80 * ((x - 0.15) ** 2 + y * y)) : 0)),
    ...pattern((x, y, _z, part) => (part === 0 ? y * Math.exp(-80 * ((x - 0.15) ** 2 + y * y)) * 10 : 0)),
    ...pattern((x, _y, _z, part) => (part === 1 ? Math.sin(14 * x) : 0)),
  ]);

  it("sends through a sphere of 60 m what it radiates, mixed motions of any phase, to 1 kHz", () => {
    const sphere = listeningSphere([0.24, 0, -0.05], 60, 12);
    const field = opened(
      exteriorField(
        surface,
        patterns,
        { frequencies: Float64Array.of(90, 250, 500, 1000), listeners: sphere.points, density, soundSpeed },
        withKernels,
      ),
    );
    const re = [1, -0.4, 0.7, 0.3];
    const im = [0, 0.8, -0.2, 0.5];
    field.frequencies.forEach((_, f) => {
      let radiated = 0;
      for (let i = 0; i < 4; i++)
        for (let j = 0; j < 4; j++)
          radiated += 0.5 * (re[i] * re[j] + im[i] * im[j]) * field.resistance[16 * f + 4 * i + j];
      let heard = 0;
      sphere.areas.forEach((area, l) => {
        let [p, q] = [0, 0];
        for (let i = 0; i < 4; i++) {
          const at = (f * sphere.areas.length + l) * 4 + i;
          p += field.pressureRe[at] * re[i] - field.pressureIm[at] * im[i];
          q += field.pressureRe[at] * im[i] + field.pressureIm[at] * re[i];
        }
        heard += (area * (p * p + q * q)) / (2 * density * soundSpeed);
      });
      expect(Math.abs(heard / radiated - 1)).toBeLessThan(5e-3);
      // And the work done on the surface, of which nothing but the pressure is shared with the above.
      expect(field.checks.powerMismatch[f]).toBeLessThan(5e-3);
    });
  });

  it("answers at one place to another as the other to the one: asymmetry below 0.2 % to 1 kHz", () => {
    const field = opened(
      exteriorField(
        surface,
        patterns,
        {
          frequencies: Float64Array.of(100, 400, 1000),
          listeners: new Float64Array(0),
          density,
          soundSpeed,
        },
        withKernels,
      ),
    );
    expect(Math.max(...field.checks.asymmetry)).toBeLessThan(2e-3);
  });

  it("is known at all frequencies from ten: to 0.4 % of the largest impedance, from 3 Hz to 1 kHz", () => {
    const solve = (frequencies: Float64Array) =>
      opened(
        exteriorField(
          surface,
          patterns,
          { frequencies, listeners: new Float64Array(0), density, soundSpeed },
          withKernels,
        ),
      );
    const ten = solve(exteriorFrequencies(10, 1000));
    const right = solve(Float64Array.of(3, 50, 111, 300, 444, 600, 808, 990));
    right.frequencies.forEach((hertz, f) => {
      const omega = 2 * Math.PI * hertz;
      const ours = exteriorAt(ten, omega);
      let [gap, most] = [0, 0];
      for (let i = 0; i < 16; i++) {
        const re = omega ** 2 * right.resistance[16 * f + i];
        const im = omega * right.mass[16 * f + i];
        gap = Math.max(gap, Math.hypot(ours.impedanceRe[i] - re, ours.impedanceIm[i] - im));
        most = Math.max(most, Math.hypot(re, im));
      }
      expect(gap / most).toBeLessThan(4e-3);
    });
  });

  // A pulsating ball of 10 mm at the listener's place, as part of the surface: pressure on the ball from the body's patch,
  // and pressure on the patch from the ball, against the pressure heard at the place without a ball.
  it("is heard where a small source would be heard by it: source and listener change places", () => {
    const place = [0.6, 0.25, 0.4];
    const ball = sphereSurface(2, 0.01, place);
    const both = bothSurfaces(surface, ball);
    const more = ball.triangles.length / 3;
    const patch = patterns.slice(panels, 2 * panels);
    const joint = Float64Array.of(
      ...patch,
      ...new Array(more).fill(0),
      ...new Array(panels).fill(0),
      ...new Array(more).fill(1),
    );
    const frequencies = Float64Array.of(120, 600);
    const o = { frequencies, density, soundSpeed };
    const alone = opened(
      exteriorField(surface, patch, { ...o, listeners: Float64Array.from(place) }, withKernels),
    );
    const field = opened(exteriorField(both, joint, { ...o, listeners: new Float64Array(0) }, withKernels));
    let area = 0;
    for (let t = 0; t < more; t++) {
      const [p, q, r] = [0, 1, 2].map((m) =>
        ball.nodes.subarray(3 * ball.triangles[3 * t + m], 3 * ball.triangles[3 * t + m] + 3),
      );
      const [e, g] = [q, r].map((v) => [0, 1, 2].map((d) => v[d] - p[d]));
      area += Math.hypot(e[1] * g[2] - e[2] * g[1], e[2] * g[0] - e[0] * g[2], e[0] * g[1] - e[1] * g[0]) / 2;
    }
    frequencies.forEach((hertz, f) => {
      const phase = (2 * Math.PI * hertz * alone.travel[0]) / soundSpeed;
      const [c, s] = [Math.cos(phase), Math.sin(phase)];
      const re = alone.pressureRe[f] * c + alone.pressureIm[f] * s;
      const im = alone.pressureIm[f] * c - alone.pressureRe[f] * s;
      // Z/(i omega) = mass - i omega resistance, off the diagonal.
      const mutualRe = field.mass[4 * f + 1] / area;
      const mutualIm = (-2 * Math.PI * hertz * field.resistance[4 * f + 1]) / area;
      expect(Math.hypot(mutualRe - re, mutualIm - im) / Math.hypot(re, im)).toBeLessThan(0.02);
    });
    expect(Math.max(...field.checks.asymmetry)).toBeLessThan(2e-3);
  });
});
