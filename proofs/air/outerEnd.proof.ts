/** Outer end of a hole on a body of finite width, with the boundary integral of the outer air. */
import { apertureFlows, exteriorField, exteriorSurface, stoppedFlow, withOuterEnd } from "#engine/air";
import { opened, quiet } from "#engine/numerics";
import { proof } from "#proofs/harness";
import { air, boxModes } from "./boxCavity.ts";
import { ellipsePolygon } from "./shapes.ts";

/** Fall of the outer end correction, in radii of the hole, in the middle of the end of a cylinder `ratio` times as wide. */
function shortened(ratio: number, mirrored: boolean, flow: number): number {
  const width = 0.15;
  const a = ratio * width;
  const moved = (p: Float64Array) => p.map((v, i) => v + (i % 2 === 0 ? width : 0));
  const outline = moved(ellipsePolygon(width, width, 720));
  const hole = moved(ellipsePolygon(a, a));
  const faces = {
    top: { at: 0, perX: 0, dome: null },
    back: { at: -0.5, perX: 0, dome: null },
  };
  const cavity = boxModes(
    { lengths: [1, 1, 1], hole: null },
    {
      ...faces,
      outline,
      hole: { polygon: hole, wall: 0, scoop: { height: 0, wall: 0 } },
      toFrequency: 500,
      size: 0.08,
    },
  );
  const aperture = cavity.aperture!;
  const surface = opened(exteriorSurface({ outline, ...faces, hole: { polygon: hole, scoop: 0 } }, 700));
  const own = apertureFlows(surface, aperture.centroids, aperture.flow);
  const stopped = stoppedFlow(aperture, surface).map((v) => v * flow);
  const field = opened(
    exteriorField(
      surface,
      Float64Array.of(...own, ...stopped),
      {
        frequencies: Float64Array.of(5),
        listeners: new Float64Array(0),
        density: air.density,
        soundSpeed: air.soundSpeed,
      },
      quiet,
    ),
  );
  const n = aperture.count;
  const mass = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) mass[i * n + j] = (mirrored ? -1 : 1) * field.mass[(n + i) * 2 * n + j]!;
  const outer = withOuterEnd(cavity, mass).aperture!.outer[0]!;
  return ((aperture.outer[0]! - outer) * Math.PI * a) / air.density;
}

const flange = (s: number) => s * (0.8216 - 0.6133) - 0.057 * s * (1 - s ** 5);

proof(
  "end correction lost to the edge of a round body, in hole radii, for holes of 0.25, 0.35, 0.5 and 0.8 of the body's",
  {
    source:
      "DALMONT-2001 (formula for circular flanges, from memory; end.flanged 0.8216, end.unflanged 0.6133)",
    quoted: [0.25, 0.35, 0.5, 0.8].map(flange),
    relTol: 0.06,
    because: "the source's fit is for the plane wave of a tube and good to a few per cent; observed 1 to 5 %",
    mustNotice: { flow: 1.1, sign: -1 },
  },
  (slip) => [0.25, 0.35, 0.5, 0.8].map((s) => shortened(s, slip.sign === -1, slip.flow ?? 1)),
);
