/** The outer air at a hole in a box or a guitar-like body. */
import { describe, expect, it } from "vitest";
import {
  airProperties,
  apertureFlows,
  cavityModes,
  type ExteriorSpec,
  exteriorField,
  exteriorSurface,
  staticOuterInertance,
  stoppedFlow,
  withOuterEnd,
} from "#engine/air";
import { opened, quiet } from "#engine/numerics";
import { wasmKernels } from "#kernels";
import { proof } from "#proofs/harness";
import { circle, eggBody } from "./exteriorShapes.ts";

const density = 1.2;
const soundSpeed = 343;
const withKernels = { ...quiet, kernels: wasmKernels };

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
        outline: eggBody.outline,
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
  const spec = { outline: eggBody.outline, top, back, hole: { polygon: hole.polygon, scoop: 0.01 } };
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
