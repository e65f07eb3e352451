import { readFileSync } from "node:fs";
import { luSolve, opened, piecewiseLinear } from "#engine/numerics";
import {
  compositeSection,
  type NeckPull,
  type NeckTendon,
  neckBending,
  rectangleLayer,
} from "#engine/shells";
import { proof, type Slips } from "#proofs/harness";
import { beamElement } from "../../engine/shells/body/beamElement.ts";

const times = (slip: Slips, name: string): number => slip[name] ?? 1;

const strips = { width: 0.05, E1: 14e9, h1: 0.006, E2: 10e9, h2: 0.015 };

proof(
  "two strips glued together bend by the closed form of the bimetal strip (N m2) about their transformed centre (m)",
  {
    source:
      "CLOSED-FORM S. Timoshenko, J. Opt. Soc. Am. 11, 233 (1925), flexural rigidity of two layers (from memory)",
    quoted: (() => {
      const { width: b, E1, h1, E2, h2 } = strips;
      const cross = E1 * E2 * h1 * h2 * (2 * h1 * h1 + 2 * h2 * h2 + 3 * h1 * h2) * 2;
      const stretch = E1 * h1 + E2 * h2;
      return [
        (b * (E1 * E1 * h1 ** 4 + E2 * E2 * h2 ** 4 + cross)) / (12 * stretch),
        (E1 * h1 * (h1 / 2) + E2 * h2 * (h1 + h2 / 2)) / stretch,
      ];
    })(),
    relTol: 1e-12,
    because: "both are the same algebra, so only rounding parts them",
    mustNotice: { stiffness: 1.02, height: 1.02, place: 1.02 },
  },
  (slip) => {
    const { width, E1, h1, E2, h2 } = strips;
    const section = compositeSection([
      rectangleLayer(E1, 850, width, h1, 0),
      rectangleLayer(
        E2 * times(slip, "stiffness"),
        600,
        width,
        h2 * times(slip, "height"),
        h1 * times(slip, "place"),
      ),
    ]);
    return [section.EIUpright, section.depth];
  },
);

const bar = {
  width: 0.05,
  height: 0.02,
  E: 10e9,
  rodWidth: 0.006,
  rodHeight: 0.01,
  rodE: 200e9,
  deep: 0.004,
};

proof(
  "a steel bar let into wood: the transformed section worked by hand (centre 9.47 mm deep, 433.7 N m2)",
  {
    source: "CLOSED-FORM transformed section, wood widened by (n - 1) b where the bar lies: n = 20",
    quoted: (() => {
      // wood 50 x 20, and 19 x 6 x 10 = 1140 mm2 of extra wood at 9 mm: centre (1000 x 10 + 1140 x 9) / 2140
      const centre = (1000 * 10 + 1140 * 9) / 2140;
      const I =
        (50 * 20 ** 3) / 12 + 1000 * (10 - centre) ** 2 + (114 * 10 ** 3) / 12 + 1140 * (9 - centre) ** 2;
      return [centre * 1e-3, 10e9 * I * 1e-12];
    })(),
    relTol: 1e-12,
    because: "the same section in other words",
    mustNotice: { depth: 1.05, stiffness: 1.02, wood: 1.02 },
  },
  (slip) => {
    const E = bar.E * times(slip, "wood");
    const section = compositeSection([
      rectangleLayer(E, 600, bar.width, bar.height, 0),
      rectangleLayer(
        bar.rodE * times(slip, "stiffness") - bar.E,
        7850 - 600,
        bar.rodWidth,
        bar.rodHeight,
        bar.deep * times(slip, "depth"),
      ),
    ]);
    return [section.depth, section.EIUpright];
  },
);

const neck = { length: 0.36, EI: 400, axisDepth: 0.0095, tension: 750, height: 0.002 };

/** An even neck of the figures above, each times its slip. */
function even(slip: Slips, pull: Partial<NeckPull> = {}, tendons: readonly NeckTendon[] = []) {
  const x = Float64Array.from([0, neck.length * times(slip, "length")]);
  const flat = (v: number) => Float64Array.from([v, v]);
  const beam = {
    x,
    EI: flat(neck.EI * times(slip, "EI")),
    axisDepth: flat(neck.axisDepth * times(slip, "axis")),
    jointCompliance: 0,
  };
  const strings: NeckPull[] = [
    {
      tension: neck.tension * times(slip, "tension"),
      heightAtNut: neck.height,
      climb: 0,
      pole: Number.POSITIVE_INFINITY,
      ...pull,
    },
  ];
  return opened(neckBending(beam, tendons.length > 0 ? [] : strings, tendons));
}

const k = Math.sqrt(neck.tension / neck.EI);
const eccentricity = neck.height + neck.axisDepth;

proof(
  "a cantilever under a force beside its axis: first order P e L2 / 2EI, with what it gains e (sec kL - 1) (m)",
  {
    source: "CLOSED-FORM secant formula of the eccentrically loaded column",
    quoted: [
      (neck.tension * eccentricity * neck.length ** 2) / (2 * neck.EI),
      eccentricity * (1 / Math.cos(k * neck.length) - 1),
    ],
    relTol: 1e-5,
    because: "steps of L / 400, of second order",
    mustNotice: { tension: 1.001, EI: 1.001, axis: 1.001, length: 1.001 },
  },
  (slip) => {
    const bent = even(slip);
    return [bent.firstRise.at(-1)!, bent.rise.at(-1)!];
  },
);

const behind = 0.29;

/** Least root of tan kL = -k c between pi/2 and pi. */
function poleRoot(): number {
  let [a, b] = [Math.PI / 2 + 1e-12, Math.PI];
  for (let pass = 0; pass < 100; pass++) {
    const m = (a + b) / 2;
    // sin z + z (c/L) cos z falls from above 0 to below
    if (Math.sin(m) + ((m * behind) / neck.length) * Math.cos(m) > 0) a = m;
    else b = m;
  }
  return a;
}

proof(
  "a cantilever buckles at pi2 EI / 4L2 under a force that keeps its direction, at pi2 EI / L2 through its base, between them through a point behind it (N)",
  {
    source:
      "CLOSED-FORM Euler columns; load through a fixed point: tan kL = -k c (Timoshenko and Gere, from memory)",
    quoted: [Math.PI / 2, Math.PI, poleRoot()].map((z) => (z / neck.length) ** 2 * neck.EI),
    relTol: 3e-5,
    because: "steps of L / 400, of second order",
    mustNotice: { EI: 1.001, length: 1.001, pole: 1.001 },
  },
  (slip) => {
    const poles = [Number.POSITIVE_INFINITY, 0, behind];
    return poles.map(
      (pole) =>
        even(slip, { pole: pole * times(slip, "pole"), tension: neck.tension * times(slip, "tension") })
          .criticalFactor *
        neck.tension *
        times(slip, "tension"),
    );
  },
);

const tendon = { from: 0.05, to: 0.31, force: 1200, depth: 0.013, moment: 4 };

proof(
  "a straight tendon and a couple over a part of an even neck bend it back by (F e + C)(b - a)(L - (a + b) / 2) / EI (m)",
  {
    source: "CLOSED-FORM prestress as end moments F e of the tendon",
    quoted: (() => {
      const { from: a, to: b, force, depth, moment } = tendon;
      const M = force * (depth - neck.axisDepth) + moment;
      return (-M * (b - a) * (neck.length - (a + b) / 2)) / neck.EI;
    })(),
    relTol: 1e-5,
    because: "ends of the tendon fall within a cell of L / 400",
    mustNotice: { force: 1.001, depth: 1.001, moment: 1.001, reach: 1.001, EI: 1.001 },
  },
  (slip) =>
    even(slip, {}, [
      {
        from: tendon.from,
        to: tendon.to * times(slip, "reach"),
        force: tendon.force * times(slip, "force"),
        depth: tendon.depth * times(slip, "depth"),
        moment: tendon.moment * times(slip, "moment"),
      },
    ]).rise.at(-1)!,
);

const taper = { a: -0.7, moment: 8 };

proof(
  "a neck that tapers as (1 + a x)3 under an even couple (m: nut, half way)",
  {
    source:
      "CLOSED-FORM w = -M / (2 a EI0) (x + ((1 + a x)^-1 - 1) / a), w'' = -M / (EI0 (1 + a x)3) integrated twice",
    quoted: [neck.length, neck.length / 2].map(
      (x) => (-taper.moment / (2 * taper.a * neck.EI)) * (x + (1 / (1 + taper.a * x) - 1) / taper.a),
    ),
    relTol: 2e-5,
    because: "steps of L / 400, stiffness straight between 201 places",
    mustNotice: { taper: 1.001, EI: 1.001, moment: 1.001 },
  },
  (slip) => {
    const x = Float64Array.from({ length: 201 }, (_, i) => (neck.length * i) / 200);
    const beam = {
      x,
      EI: x.map((s) => neck.EI * times(slip, "EI") * (1 + taper.a * times(slip, "taper") * s) ** 3),
      axisDepth: x.map(() => neck.axisDepth),
      jointCompliance: 0,
    };
    const couple = {
      from: 0,
      to: neck.length,
      force: 0,
      depth: 0,
      moment: taper.moment * times(slip, "moment"),
    };
    const bent = opened(neckBending(beam, [], [couple]));
    return [bent.rise[400]!, bent.rise[200]!];
  },
);

interface NeckCase {
  readonly length: number;
  readonly EI: [number, number];
  readonly axisDepth: [number, number];
  readonly jointCompliance: number;
  readonly bodyTurn: number;
  readonly pulls: NeckPull[];
  readonly tendon: NeckTendon;
  readonly tipRise: number;
  readonly middleRise: number;
}

const cases: NeckCase[] = JSON.parse(
  readFileSync(new URL("../reference/neck-cases-own/cases.json", import.meta.url), "utf8"),
);

proof(
  "12 tapered necks under six strings and a rod, joint and body giving, second order in it (m: nut, half way)",
  {
    source: "NECK-CASES-OWN",
    quoted: cases.flatMap((c) => [c.tipRise, c.middleRise]),
    absTol: 5e-8,
    relTol: 2e-5,
    because: "steps of L / 400: under a twenty-thousandth of a millimetre",
    mustNotice: {
      tension: 1.001,
      pole: 1.02,
      climb: 1.01,
      EI: 1.001,
      axis: 1.001,
      force: 1.001,
      compliance: 1.01,
      turn: 1.001,
    },
  },
  (slip) =>
    cases.flatMap((c) => {
      const beam = {
        x: Float64Array.from([0, c.length]),
        EI: Float64Array.from(c.EI, (v) => v * times(slip, "EI")),
        axisDepth: Float64Array.from(c.axisDepth, (v) => v * times(slip, "axis")),
        jointCompliance: c.jointCompliance * times(slip, "compliance"),
      };
      const pulls = c.pulls.map((p) => ({
        ...p,
        tension: p.tension * times(slip, "tension"),
        climb: p.climb * times(slip, "climb"),
        pole: p.pole * times(slip, "pole"),
      }));
      const rod = { ...c.tendon, force: c.tendon.force * times(slip, "force") };
      const bent = opened(neckBending(beam, pulls, [rod], c.bodyTurn * times(slip, "turn")));
      return [bent.rise[400]!, piecewiseLinear(bent.x, bent.rise, c.length / 2)];
    }),
);

const portal = { span: 0.4, height: 0.25, beamEI: 300, postEI: 200, push: 40, weight: 60 };

/** Sway and moments of a portal of two posts and a beam, feet fixed, pushed at its left corner or pressed in the middle of its beam. */
function portalFrame(slip: Slips, load: "push" | "weight"): number[] {
  const { span: L, height: h } = portal;
  const places = [
    [0, 0, 0],
    [0, 0, h],
    [L / 2, 0, h],
    [L, 0, h],
    [L, 0, 0],
  ];
  const section = (EI: number) => ({
    EA: 1e9,
    EIup: EI,
    EIacross: EI,
    GJ: EI,
    GA: 0,
    massPerLength: 1,
    polar: 0,
    lossE: 0,
    lossG: 0,
  });
  const post = section(portal.postEI * times(slip, "postEI"));
  const beam = section(portal.beamEI * times(slip, "beamEI"));
  const members = [
    { ends: [0, 1], section: post },
    { ends: [1, 2], section: beam },
    { ends: [2, 3], section: beam },
    { ends: [3, 4], section: post },
  ].map(({ ends, section: s }) => ({
    ends,
    matrix: beamElement(places[ends[0]!]!, places[ends[1]!]!, s).stiffness,
  }));
  const free = [1, 2, 3];
  const n = 6 * free.length;
  const K = new Float64Array(n * n);
  const motion = (ends: readonly number[], i: number): number => {
    const at = free.indexOf(ends[i < 6 ? 0 : 1]!);
    return at < 0 ? -1 : 6 * at + (i % 6);
  };
  for (const { ends, matrix } of members)
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < 12; j++) {
        const [p, q] = [motion(ends, i), motion(ends, j)];
        if (p >= 0 && q >= 0) K[p * n + q]! += matrix[12 * i + j]!;
      }
  const f = new Float64Array(n);
  if (load === "push") f[0] = portal.push * times(slip, "push");
  else f[6 + 2] = -portal.weight * times(slip, "weight");
  const u = opened(luSolve(K, n, f));
  // moment about y at both ends of the left post
  const left = members[0]!;
  const moment = (row: number): number => {
    let sum = 0;
    for (let j = 0; j < 12; j++) {
      const q = motion(left.ends, j);
      if (q >= 0) sum += left.matrix[12 * row + j]! * u[q]!;
    }
    return Math.abs(sum);
  };
  return load === "push" ? [u[0]!, moment(4), moment(10)] : [moment(4), moment(10)];
}

proof(
  "the body's beams make a portal: sway (m) and moments at foot and corner under a push, moments under a weight on the beam (N m)",
  {
    source:
      "CLOSED-FORM portal with fixed feet, k = (I beam / I post)(height / span) (Kleinlogel, Rahmenformeln, from memory)",
    quoted: (() => {
      const { span: L, height: h, beamEI, postEI, push: H, weight: P } = portal;
      const k = (beamEI / postEI) * (h / L);
      return [
        ((H * h ** 3) / (12 * postEI)) * ((3 * k + 2) / (6 * k + 1)),
        ((H * h) / 2) * ((3 * k + 1) / (6 * k + 1)),
        ((H * h) / 2) * ((3 * k) / (6 * k + 1)),
        (P * L) / (8 * (k + 2)),
        (P * L) / (4 * (k + 2)),
      ];
    })(),
    relTol: 1e-4,
    because: "the closed forms leave out the stretch of the members, here 1e-5 of it",
    mustNotice: { postEI: 1.01, beamEI: 1.01, push: 1.001, weight: 1.001 },
  },
  (slip) => [...portalFrame(slip, "push"), ...portalFrame(slip, "weight")],
);
