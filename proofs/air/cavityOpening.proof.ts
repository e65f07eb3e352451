/** The opening of a cavity: inner field, wall, both ends, Helmholtz resonance and modes with the hole's pressure at zero. */
import { ellipticK } from "#engine/numerics";
import { proof } from "#proofs/harness";
import {
  air,
  type Box,
  boxModes,
  boxSeries,
  holeAt,
  openModes,
  seriesOpenModes,
  wholeInner,
} from "./boxCavity.ts";

const lengths = [0.5, 0.4, 0.1] as const;
const circle = { x: 0.3, y: 0.2, a: 0.05, b: 0.05 };
const long = { x: 0.3, y: 0.17, a: 0.06, b: 0.03 };
const volume = lengths[0] * lengths[1] * lengths[2];
/** m: conductance of a thin hole in an endless plate. */
const conductance = ({ a, b }: { a: number; b: number }) =>
  (Math.PI * Math.max(a, b)) / ellipticK(1 - (Math.min(a, b) / Math.max(a, b)) ** 2);
const resonance = (perDensity: number) => air.soundSpeed / (2 * Math.PI) / Math.sqrt(perDensity * volume);

proof(
  "outer end of a circular and of elliptic holes under an endless flange over Rayleigh's 1/(2C)",
  {
    source: "RAYLEIGH sec. 306 (hole.circ, hole.ellipse.0.5)",
    quoted: [1, 1, 1],
    relTol: 2.5e-3,
    because:
      "panels extrapolated from two runs: observed 8e-4; the real flow lies slightly off that of even potential",
    mustNotice: { end: 1.004 },
  },
  (slip) =>
    [circle, long, { x: 0.25, y: 0.2, a: 0.04, b: 0.02 }].map((hole) => {
      const { aperture } = boxModes({ lengths, hole }, { toFrequency: 600 });
      return ((aperture!.outer[0]! * 2 * conductance(hole)) / air.density) * (slip.end ?? 1);
    }),
);

proof(
  "Helmholtz resonance of a 20 litre box, flanged outside: circle, ellipse, small circle; the box's walls shorten the inner end",
  {
    source: "RAYLEIGH sec. 306, inner end by the closed series of the box",
    quoted: [circle, long, { ...circle, a: 0.01, b: 0.01 }].map((hole) =>
      resonance(boxSeries({ lengths, hole }, 0, 1)[0]! + 1 / (2 * conductance(hole))),
    ),
    relTol: 1e-3,
    because: "half the errors of both ends: observed 4e-4",
    mustNotice: { volume: 1.003, inner: 1.01, endlessBoxInside: 0 },
  },
  (slip) =>
    [circle, long, { ...circle, a: 0.01, b: 0.01 }].map((hole) => {
      const cavity = boxModes({ lengths, hole }, { toFrequency: 600 });
      const inner =
        slip.endlessBoxInside === 0
          ? air.density / (2 * conductance(hole))
          : wholeInner(cavity) * (slip.inner ?? 1);
      return resonance(((inner + cavity.aperture!.outer[0]!) / air.density) * (slip.volume ?? 1));
    }),
);

proof(
  "Helmholtz resonance of 12.5 litres with a thin hole between two endless flanges: circle, and ellipse of the same area",
  {
    source: "RAYLEIGH sec. 306 (hole.circ; times the root of hole.ellipse.0.5)",
    quoted: [154.85, 154.85 * Math.sqrt(1.030107)],
    relTol: 1e-3,
    because: "half the error of six rows of panels: observed 2e-4 and 7e-4",
    mustNotice: { volume: 1.004, area: 1.006 },
  },
  (slip) =>
    [1, 0.5].map((ratio) => {
      const a = (0.05 / Math.sqrt(ratio)) * Math.sqrt(slip.area ?? 1);
      const { aperture } = boxModes(
        { lengths: [1.5, 1.4, 1.3], hole: { x: 0.7, y: 0.8, a, b: a * ratio } },
        { toFrequency: 90, size: 0.4, layers: 4 },
      );
      const perDensity = (2 * aperture!.outer[0]!) / air.density;
      return 343.99 / (2 * Math.PI) / Math.sqrt(perDensity * 0.0125 * (slip.volume ?? 1));
    }),
);

proof(
  "end correction over the radius at either mouth of a neck of three radii",
  {
    source: "DALMONT-2001 (end.flanged)",
    quoted: 0.8216,
    relTol: 0.016,
    because: "what varies along the mouth evens out in the wall by a rational fit: observed 1.3 % heavy",
    mustNotice: { thinHole: 0, wall: 0.98 },
  },
  (slip) => {
    const ratio = slip.thinHole === 0 ? 0 : 3;
    const hole = { polygon: holeAt(circle), wall: ratio * circle.a, scoop: { height: 0, wall: 0 } };
    const { outer, wall } = boxModes({ lengths, hole: circle }, { hole, toFrequency: 600 }).aperture!;
    const perLength = air.density / (Math.PI * circle.a ** 2);
    return (
      (outer[0]! + (wall[0]! - ratio * circle.a * perLength * (slip.wall ?? 1)) / 2) / (perLength * circle.a)
    );
  },
);

proof(
  "end correction over the radius of a circular hole in walls of 0, 0.02, 0.06, 0.1, 0.2 and 0.4 radii (0 to 20 mm at 50 mm)",
  {
    source:
      "CLOSED-FORM (pi/4 at 0; Bessel modes matched at the mouth, computed by us outside this code; DALMONT-2001 0.8216 for long)",
    quoted: [0.7854, 0.7928, 0.8, 0.8046, 0.8115, 0.8185],
    absTol: 4e-3,
    because: "observed 0.0002 to 0.002 a heavy up to 0.2 radii; the value at 0.4 lies between the fits",
    mustNotice: { end: 1.012, wall: 1.1 },
  },
  (slip) =>
    [0, 0.02, 0.06, 0.1, 0.2, 0.4].map((ratio) => {
      const a = 0.05;
      const hole = { polygon: holeAt(circle), wall: ratio * a, scoop: { height: 0, wall: 0 } };
      const { outer, wall } = boxModes({ lengths, hole: circle }, { hole, toFrequency: 600 }).aperture!;
      const perLength = air.density / (Math.PI * a * a);
      const excess = (wall[0]! - ratio * a * perLength * (slip.wall ?? 1)) / 2;
      return ((outer[0]! + excess) / (perLength * a)) * (slip.end ?? 1);
    }),
);

const offCentre: Box & { hole: typeof circle } = { lengths, hole: { x: 0.3, y: 0.17, a: 0.06, b: 0.04 } };

proof(
  "modes of a box whose hole has zero pressure (outer end and wall left out), closed modes and patterns put together",
  {
    source: "CLOSED-FORM (series over the box's modes with six patterns, derived in boxCavity.ts)",
    quoted: seriesOpenModes(offCentre, 830),
    relTol: 2e-3,
    because: "observed 1e-4 to 1.3e-3; with the first pattern alone the second mode lies 1.8 % low",
    mustNotice: { inner: 1.05, patterns: 0, speed: 1.003 },
  },
  (slip) => {
    const cavity = boxModes(offCentre, { toFrequency: 2000 });
    const { inner, count, coupling } = cavity.aperture!;
    const alone = slip.patterns === 0;
    const heavy = inner.map((v, i) =>
      alone && i % (count + 1) === 0 && i > 0 ? 1e9 : v * (slip.inner ?? 1),
    );
    const aperture = {
      ...cavity.aperture!,
      coupling: alone ? coupling.map((v, i) => (i < cavity.count ? v : 0)) : coupling,
    };
    return openModes({ ...cavity, aperture }, heavy, 830).map((f) => f * (slip.speed ?? 1));
  },
);

proof(
  "a hole that comes up to the side wall: inertance inside and outside over that of the flow of even potential",
  {
    source:
      "CLOSED-FORM (series of the box with the hole 30, 10, 2 and 0 mm from the wall; it lies above the true value)",
    quoted: [0.03, 0.01, 0.002, 0].map(() => 0.993),
    absTol: 9e-3,
    because:
      "the real flow gives way to the wall, which may save no more than what was observed, 0.1 to 1.5 %, and cannot cost",
    mustNotice: { inner: 1.04, mirrored: 0 },
  },
  (slip) =>
    [0.03, 0.01, 0.002, 0].map((gap) => {
      const hole = { x: 0.05 + gap, y: 0.2, a: 0.05, b: 0.05 };
      const cavity = boxModes({ lengths, hole });
      const inner = wholeInner(cavity) * (slip.inner ?? 1);
      const place = slip.mirrored === 0 ? { ...hole, x: 0.25 } : hole;
      const even = boxSeries({ lengths, hole: place }, 0, 1)[0]! + 1 / (2 * conductance(hole));
      return (inner + cavity.aperture!.outer[0]!) / air.density / even;
    }),
);
