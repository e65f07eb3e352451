/** The power that the coupled structure sends out, by the pressure on a distant sphere, in the account of the string's power. */
import { exteriorField, exteriorFrequencies, exteriorSurface, panelFlows } from "#engine/air";
import { gaussLegendre, opened, quiet } from "#engine/numerics";
import { coupleStructure, crownMobility, forcedStructure, type StructureParts } from "#engine/response";
import { proof } from "#proofs/harness";
import { boxDepth, boxTop } from "../../engine/response/boxPlates.fixture.ts";
import { wholeBox } from "../../engine/response/wholeBox.fixture.ts";

const radius = 60;
/** Hz; the answer is looked at on the table's own frequencies. 219 and 280: main top and main back of the box; 505 and 513: a close pair. */
const frequencies = Float64Array.of(60, 104, 160, 219, 280, 420, 508, 700, 900);

/** Directions and weights of a product rule over the sphere. */
const sphere = (() => {
  const [rings, around] = [12, 24];
  const { points, weights } = gaussLegendre(rings);
  const out: { at: number[]; weight: number }[] = [];
  for (let i = 0; i < rings; i++) {
    const ring = Math.sqrt(1 - points[i] ** 2);
    for (let j = 0; j < around; j++) {
      const t = (2 * Math.PI * j) / around;
      out.push({
        at: [ring * Math.cos(t), ring * Math.sin(t), points[i]].map((v) => radius * v),
        weight: (weights[i] * 2 * Math.PI) / around,
      });
    }
  }
  return out;
})();

/** The box of the closed-form fixture inside the outer air of its own shape: all its coordinates radiate. */
function boxInAir(frequencies: Float64Array, listeners: Float64Array): StructureParts {
  const box = wholeBox({ outside: "none" });
  const [x, y] = [boxTop.length, boxTop.width / 2];
  const hole = Float64Array.from({ length: 48 }, (_, k) => {
    const t = (2 * Math.PI * (k >> 1)) / 24;
    return k % 2 ? 0.05 * Math.sin(t) : 0.34 + 0.05 * Math.cos(t);
  });
  const surface = opened(
    exteriorSurface(
      {
        outline: Float64Array.of(0, -y, x, -y, x, y, 0, y),
        hole: { polygon: hole, scoop: 0 },
        top: { at: 0, perX: 0, dome: null },
        back: { at: -boxDepth, perX: 0, dome: null },
      },
      500,
    ),
  );
  const panels = surface.part.length;
  const motions = panelFlows(surface, box.body.surface, box.body.shapes);
  const patterns = new Float64Array(motions.length + panels);
  patterns.set(motions);
  const area = (t: number) => {
    const at = (m: number, d: number) => surface.nodes[3 * surface.triangles[3 * t + m] + d];
    return (
      Math.abs(
        (at(1, 0) - at(0, 0)) * (at(2, 1) - at(0, 1)) - (at(2, 0) - at(0, 0)) * (at(1, 1) - at(0, 1)),
      ) / 2
    );
  };
  let open = 0;
  for (let t = 0; t < panels; t++) if (surface.part[t] === 3) open += area(t);
  for (let t = 0; t < panels; t++) if (surface.part[t] === 3) patterns[motions.length + t] = 1 / open;
  const { density, soundSpeed } = box.air;
  return {
    ...box,
    outside: opened(exteriorField(surface, patterns, { frequencies, listeners, density, soundSpeed }, quiet)),
  };
}

const parts = boxInAir(frequencies, Float64Array.from(sphere.flatMap(({ at }) => at)));

/** Intensity over the sphere: the pressure of all coordinates' accelerations. */
function overSphere(motion: { readonly re: Float64Array; readonly im: Float64Array }, f: number): number {
  const { outside, air } = parts;
  if (!outside) return 0;
  const square = (2 * Math.PI * frequencies[f]) ** 2;
  return sphere.reduce((sum, { weight }, l) => {
    let [re, im] = [0, 0];
    for (let i = 0; i < outside.count; i++) {
      const at = (f * sphere.length + l) * outside.count + i;
      const [a, b] = [outside.pressureRe[at], outside.pressureIm[at]];
      re -= square * (a * motion.re[i] - b * motion.im[i]);
      im -= square * (a * motion.im[i] + b * motion.re[i]);
    }
    return sum + (weight * radius ** 2 * (re * re + im * im)) / (2 * air.density * air.soundSpeed);
  }, 0);
}

proof(
  "wood + hole + leak + walls' heat and friction + power through a sphere of 60 m = input, directivity and all",
  {
    source: "CLOSED-FORM conservation of energy",
    quoted: Array.from(frequencies, () => 1),
    relTol: 4e-3,
    because: "the boundary integral's pressure at a distance against its work on the surface, on 500 panels",
    mustNotice: { radiated: 1.02, wood: 1.02, noDirectivity: 0 },
  },
  (slip) =>
    Array.from(frequencies, (hz, f) => {
      const { power, motion, flow } = opened(forcedStructure(parts, 0, 2 * Math.PI * hz));
      const net = (part: Float64Array) => part.reduce((sum, v) => sum + v, 0);
      const small =
        (parts.air.density * (2 * Math.PI * hz * Math.hypot(net(flow.re), net(flow.im))) ** 2) /
        (8 * Math.PI * parts.air.soundSpeed);
      const radiated = slip.noDirectivity === 0 ? small : overSphere(motion, f);
      const lost =
        power.wood * (slip.wood ?? 1) +
        power.hole +
        power.leak +
        power.heat +
        power.friction +
        radiated * (slip.radiated ?? 1);
      return lost / power.input;
    }),
);

// Between the tabled frequencies, off resonance and on the flanks of the main modes; not near antiresonances.
const between = [50, 90, 100, 150, 190, 205, 230, 275, 300, 360, 500];
const tabled = boxInAir(exteriorFrequencies(8, 1000), Float64Array.of(0.16, 0, 1, 0.3, 0.5, 0));
const fullSize = (box: StructureParts, hz: number) => {
  const { re, im } = opened(forcedStructure(box, 0, 2 * Math.PI * hz)).mobility;
  return Math.hypot(re[0], im[0]);
};

proof(
  "mobility by damped modes, the outer air in few rows, against the full equations with the outer air in full, between its frequencies",
  {
    source: "CLOSED-FORM the same equations solved without modes",
    quoted: between.map((hz) => fullSize(tabled, hz)),
    relTol: 0.03,
    because:
      "each term of the air is taken at the modes' own frequencies, and the outer air's small parts are left out",
    mustNotice: { massStays: 0, resistance: 0.5 },
  },
  (slip) => {
    const { outside } = tabled;
    if (!outside) return [];
    const first = outside.mass.subarray(0, outside.count ** 2);
    const mass = slip.massStays === 0 ? outside.mass.map((_, k) => first[k % first.length]) : outside.mass;
    const resistance = outside.resistance.map((r) => r * (slip.resistance ?? 1));
    const body = opened(coupleStructure({ ...tabled, outside: { ...outside, mass, resistance } }, quiet));
    return between.map((hz) => {
      const w = 2 * Math.PI * hz;
      const y = crownMobility(body, w);
      return Math.hypot(y.re[0], y.im[0] - w * body.residual[0]);
    });
  },
);
