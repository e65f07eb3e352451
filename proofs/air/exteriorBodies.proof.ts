/** The outer air of boxes and guitar-like bodies: holes, power, and the exchange of source and listener. */
import { describe, expect, it } from "vitest";
import {
  airProperties,
  apertureFlows,
  cavityModes,
  type ExteriorSpec,
  exteriorAt,
  exteriorField,
  exteriorFrequencies,
  exteriorSurface,
  listeningSphere,
  staticOuterInertance,
  stoppedFlow,
  withOuterEnd,
} from "#engine/air";
import type { Polygon } from "#engine/geometry";
import { opened, quiet } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { proof } from "#proofs/harness";
import { bothSurfaces, sphereSurface } from "./exteriorShapes.ts";

const density = 1.2;
const soundSpeed = 343;
const withKernels = { ...quiet, kernels: wasmKernels };

const circle = (x: number, y: number, r: number): Polygon =>
  Float64Array.from({ length: 192 }, (_, i) => {
    const a = (Math.PI * (i - (i % 2))) / 96;
    return i % 2 === 0 ? x + r * Math.cos(a) : y + r * Math.sin(a);
  });

/** A box of half width b and depth b with a round hole of radius r in the middle of its top. */
function holedBox(b: number, r: number): ExteriorSpec {
  return {
    outline: Float64Array.of(-b, -b, b, -b, b, b, -b, b),
    top: { at: 0, perX: 0, dome: null },
    back: { at: -b, perX: 0, dome: null },
    hole: { polygon: circle(0, 0, r), scoop: 0 },
  };
}

/** Panels of a disc, thin at its edge, of the circle's own area: corners, and each panel's share of the area. */
function discPanels(x: number, y: number, r: number) {
  const [rings, spokes] = [6, 24];
  const corners: number[] = [];
  const share: number[] = [];
  const step = (2 * Math.PI) / spokes;
  const out = Math.sqrt(step / Math.sin(step)) * r;
  for (let i = 0; i < rings; i++) {
    const [from, to] = [i, i + 1].map((k) => Math.sin((0.5 * Math.PI * k) / rings));
    for (let j = 0; j < spokes; j++) {
      for (const [f, a] of [
        [from, j],
        [to, j],
        [to, j + 1],
        [from, j + 1],
      ])
        corners.push(x + out * f * Math.cos(step * a), y + out * f * Math.sin(step * a), 0);
      share.push((to * to - from * from) / spokes);
    }
  }
  return { corners: Float64Array.from(corners), share };
}

/** End correction over r, even velocity over the hole: total, and that of the endless flange alone. */
function endOver(spec: ExteriorSpec, x: number, y: number, r: number, panels: number, slip = 1) {
  const surface = opened(exteriorSurface(spec, panels));
  const disc = discPanels(x, y, r * slip);
  const { flanged, body } = opened(staticOuterInertance(surface, disc.corners, density, withKernels));
  const n = disc.share.length;
  const sum = (m: Float64Array) =>
    disc.share.reduce((s, u, i) => disc.share.reduce((t, v, j) => t + u * v * m[i * n + j], s), 0);
  const unit = density / (Math.PI * r);
  return { whole: (sum(flanged) + sum(body)) / unit, flanged: sum(flanged) / unit };
}

proof(
  "end correction of a piston in an endless flange, 8a/(3 pi), and on a box 120 radii wide",
  {
    source: "PISTON",
    quoted: [8 / (3 * Math.PI), 8 / (3 * Math.PI)],
    relTol: 4e-3,
    because: "144 panels of the disc: 1e-4; the box is not endless: it lacks r/(4b) = 0.4 % of the radius",
    mustNotice: { radius: 1.005 },
  },
  (slip) => {
    const found = endOver(holedBox(3, 0.05), 0, 0, 0.05, 700, slip.radius);
    return [found.flanged, found.whole];
  },
);

describe("a hole in a body", () => {
  it("has less outer air the smaller the body, and near an edge", () => {
    const ends = [3, 1, 0.3, 0.1].map((b) => endOver(holedBox(b, 0.05), 0, 0, 0.05, 700).whole);
    for (let i = 1; i < ends.length; i++) expect(ends[i]).toBeLessThan(ends[i - 1]);
    // Between the endless flange, 0.82 to 0.85 radii, and none, 0.613 for a long neck (physics of DALMONT-2001).
    expect(ends[3]).toBeGreaterThan(0.613);
    const middle = endOver(holedBox(0.25, 0.04), 0, 0, 0.04, 700).whole;
    const spec = { ...holedBox(0.25, 0.04), hole: { polygon: circle(0.2, 0, 0.04), scoop: 0 } };
    expect(endOver(spec, 0.2, 0, 0.04, 700).whole).toBeLessThan(middle - 0.02);
  });

  it("is the same on 300 panels as on 1,200 to a thousandth of its radius or two", () => {
    const [coarse, fine] = [300, 1200].map(
      (panels) => endOver(holedBox(0.25, 0.05), 0, 0, 0.05, panels).whole,
    );
    expect(Math.abs(coarse - fine)).toBeLessThan(2e-3);
  });
});

it("ends the same by two ways: panels on the surface, and what the body stops of the flow under an endless flange", () => {
  const hole = { polygon: circle(0.39, 0, 0.045), scoop: { height: 0.01, wall: 0.002 }, wall: 0.003 };
  const top = { at: 0, perX: 0, dome: null };
  const back = { at: -0.115, perX: 0.04, dome: null };
  const air = airProperties({ temperature: 293, pressure: 101325, relativeHumidity: 0.5 });
  const cavity = opened(
    cavityModes(
      {
        outline: body.outline,
        top,
        back,
        hole,
        solidVolume: 0,
        wallArea: null,
        leak: 0,
        air,
        toFrequency: 400,
        size: 0.05,
        layers: 2,
      },
      withKernels,
    ),
  );
  const { aperture } = cavity;
  if (aperture === null) throw new Error("the box has a hole");
  const spec = { outline: body.outline, top, back, hole: { polygon: hole.polygon, scoop: 0.01 } };
  const surface = opened(exteriorSurface(spec, 700));
  const stopped = stoppedFlow(aperture, surface);
  const own = apertureFlows(surface, aperture.centroids, aperture.flow);
  const field = opened(
    exteriorField(
      surface,
      Float64Array.of(...own, ...stopped),
      {
        frequencies: Float64Array.of(3),
        listeners: new Float64Array(0),
        density: air.density,
        soundSpeed,
      },
      withKernels,
    ),
  );
  const count = aperture.count;
  const mass = Float64Array.from(
    { length: count * count },
    (_, e) => field.mass[(count + Math.floor(e / count)) * 2 * count + (e % count)],
  );
  const theirs = withOuterEnd(cavity, mass).aperture;
  const { body: ours } = opened(staticOuterInertance(surface, aperture.corners, air.density, withKernels));
  const panels = aperture.flow.length / count;
  let first = 0;
  for (let i = 0; i < panels; i++)
    for (let j = 0; j < panels; j++) first += aperture.flow[i] * aperture.flow[j] * ours[i * panels + j];
  expect(first / aperture.outer[0]).toBeLessThan(-0.05); // it does matter
  expect(theirs).not.toBeNull();
  expect(Math.abs(((theirs?.outer[0] ?? 0) - aperture.outer[0]) / first - 1)).toBeLessThan(0.01);
});

/** An egg-shaped body with a hole, about as large as a guitar. */
const body: ExteriorSpec = {
  outline: Float64Array.from({ length: 240 }, (_, i) => {
    const a = (Math.PI * (i - (i % 2))) / 120 + Math.PI;
    const r = 0.18 + 0.03 * Math.cos(2 * a);
    return i % 2 === 0 ? 0.24 + 1.15 * r * Math.cos(a) : r * Math.sin(a);
  }),
  top: { at: 0, perX: 0, dome: null },
  back: { at: -0.115, perX: 0.04, dome: { radius: 4.5, apex: [0.24, 0] } },
  hole: { polygon: circle(0.33, 0, 0.05), scoop: 0 },
};

describe("a guitar-like body of 700 panels", () => {
  const surface = opened(exteriorSurface(body, 700));
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
