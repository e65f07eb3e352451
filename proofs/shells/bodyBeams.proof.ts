import type { BodyModes, BodyShellSpec } from "#engine/shells";
import { proof } from "#proofs/harness";
import { bodyOf, hertz, modesTo, plainBox } from "./bodyBoxes.ts";
import { isotropic } from "./testPlates.ts";

/** Root of a rising or falling function between two places. */
function root(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  const rising = f(a) < 0;
  for (let k = 0; k < 200; k++) {
    const m = (a + b) / 2;
    if (f(m) < 0 === rising) a = m;
    else b = m;
  }
  return (a + b) / 2;
}

const tube = { length: 1.6, width: 0.04, depth: 0.04, thickness: 0.001, E: 70e9, nu: 0.3, density: 2700 };

/**
 * A long closed box is a tube: I = 2/3 b3 t, A = 4 b t, torsion G t b3 (Bredt: 4 Am2 t / (4 b)), rho Ip = 4/3 rho b3 t.
 * Its end faces are masses (m b2 t) with polar inertia m b2 / 6. Free ends with tip mass: symmetric bending
 * tan z + tanh z = -4 (me/m) z, z = beta L / 2; torsion, odd: cot(k L / 2) = (Je / (rho Ip)) k.
 * Shear and rotary inertia lower the bending; Rayleigh's quotient on the shape without them takes them to first order.
 */
function tubeTheory(): [bending: number, torsion: number] {
  const { length: L, width: b, thickness: t, E, nu, density } = tube;
  const G = E / (2 * (1 + nu));
  const area = 4 * b * t;
  const I = (2 / 3) * b ** 3 * t;
  const m = density * area * L;
  const end = density * b * b * t;
  const z = root((x) => Math.tan(x) + Math.tanh(x) + (4 * end * x) / m, 1.7, 2.365);
  const beta = (2 * z) / L;
  const omega = beta ** 2 * Math.sqrt((E * I) / (density * area));
  // shape, slope and curvature of the symmetric mode; shear deflection energy Q2 / (kappa G A), rotary inertia rho I w'2
  const shape = (x: number, d: number): number => {
    const c = [Math.cos, Math.sin, Math.cos, Math.sin][d] as (v: number) => number;
    const h = [Math.cosh, Math.sinh, Math.cosh, Math.sinh][d] as (v: number) => number;
    const sign = [1, -1, -1, 1][d] as number;
    return beta ** d * ((sign * c(beta * x)) / Math.cos(z) + h(beta * x) / Math.cosh(z));
  };
  const integral = (f: (x: number) => number): number => {
    const n = 2000;
    let sum = 0;
    for (let k = 0; k < n; k++) sum += (f(-L / 2 + ((k + 0.5) * L) / n) * L) / n;
    return sum;
  };
  const kinetic = density * area * integral((x) => shape(x, 0) ** 2) + 2 * end * shape(L / 2, 0) ** 2;
  const rotary = density * I * integral((x) => shape(x, 1) ** 2);
  // a thin square tube carries shear in its two webs, Q2 I-1 S over the walls: kappa A = A 20 / 48 (Cowper 1966, nu = 0, mem)
  const shear = ((E * I) ** 2 * integral((x) => shape(x, 3) ** 2)) / ((20 / 48) * G * area);
  const potential = E * I * integral((x) => shape(x, 2) ** 2);
  const bending = omega * Math.sqrt(1 / (1 + shear / potential) / (1 + rotary / kinetic));
  const polar = (4 / 3) * density * b ** 3 * t;
  const endPolar = (end * b * b) / 6;
  const k = root(
    (x) => Math.cos((x * L) / 2) - (endPolar / polar) * x * Math.sin((x * L) / 2),
    0.1,
    Math.PI / L,
  );
  const torsion = k * Math.sqrt((G * t * b ** 3) / polar);
  return [bending / (2 * Math.PI), torsion / (2 * Math.PI)];
}

proof(
  "a long closed box bends and twists as a thin tube: first bending both ways, first torsion (Hz)",
  {
    source: "CLOSED-FORM tube with end masses, shear and rotary inertia by Rayleigh's quotient",
    quoted: (([b, t]) => [b, b, t])(tubeTheory()),
    relTol: 0.006,
    because: "edges of 9 mm on walls of 40 mm; the walls' own ovalling is left out of beam theory",
    mustNotice: { depth: 1.02, E: 1.03, density: 1.03 },
  },
  (slip) => {
    const system = bodyOf(
      plainBox({
        ...tube,
        depth: tube.depth * (slip["depth"] ?? 1),
        E: tube.E * (slip["E"] ?? 1),
        density: tube.density * (slip["density"] ?? 1),
      }),
      0.009,
    );
    const modes = modesTo(system, 1.15 * tubeTheory()[1]);
    const twist = hertz(modes).find((_, k) => isTwist(modes, k)) as number;
    return [...hertz(modes).slice(0, 2), twist];
  },
);

/** Whether a mode of the tube turns about its axis: the top slides sideways against the back. */
function isTwist(modes: BodyModes, k: number): boolean {
  const { nodes } = modes.surface;
  const count = nodes.length / 3;
  const base = 3 * count * (modes.rigidCount + k);
  let turn = 0;
  let all = 0;
  for (let n = 0; n < count; n++) {
    const x = nodes[3 * n] as number;
    if (x > 0.2) continue;
    const y = (nodes[3 * n + 1] as number) - tube.width / 2;
    const z = (nodes[3 * n + 2] as number) + tube.depth / 2;
    const [uy, uz] = [modes.shapes[base + 3 * n + 1] as number, modes.shapes[base + 3 * n + 2] as number];
    turn += y * uz - z * uy;
    all += Math.hypot(y, z) * Math.hypot(uy, uz);
  }
  return Math.abs(turn) > 0.8 * all;
}

const ring = { R: 0.15, t: 0.003, depth: 0.02, E: 10e9, density: 500 };

/** Only sides: a circular strip, free in space. */
function hoop(slip: Readonly<Record<string, number>>): BodyShellSpec {
  const t = ring.t * (slip["thickness"] ?? 1);
  const outline = Float64Array.from({ length: 720 }, (_, k) => {
    const angle = (Math.PI * (k >> 1)) / 180;
    return (ring.R + t / 2) * (k % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });
  const box = plainBox({
    length: 1,
    width: 1,
    depth: 1,
    thickness: t,
    E: ring.E,
    nu: 0,
    density: ring.density,
  });
  const wood = isotropic(ring.E * (slip["E"] ?? 1), 0, ring.density);
  return {
    ...box,
    top: null,
    back: null,
    heights: { depthAtTail: ring.depth, depthAtNeck: ring.depth, length: 1 },
    sides: box.sides && { ...box.sides, outline, plies: [{ material: wood, thickness: t, grainAngle: 0 }] },
  };
}

proof(
  "a free hoop of side bends in its plane as a ring: n = 2, 3, 4 (Hz), each twice",
  {
    source: "CLOSED-FORM omega^2 = EI/(m R^4) n^2 (n^2-1)^2/(n^2+1), thin ring without stretch",
    quoted: [2, 2, 3, 3, 4, 4].map((n) => {
      const stiff = (ring.E * ring.t ** 2) / (12 * ring.density * ring.R ** 4);
      return Math.sqrt((stiff * n ** 2 * (n ** 2 - 1) ** 2) / (n ** 2 + 1)) / (2 * Math.PI);
    }),
    relTol: 0.004,
    because:
      "flat facets of 8 mm on a radius of 150 mm (chord for arc: 1e-4 in length, four-fold in stiffness)",
    mustNotice: { thickness: 1.01, E: 1.02 },
  },
  (slip) => {
    const modes = modesTo(bodyOf(hoop(slip), 0.008), 450);
    // in its plane: no motion along z
    const count = modes.surface.nodes.length / 3;
    const flat = hertz(modes).filter((_, k) => {
      const base = 3 * count * (modes.rigidCount + k);
      let up = 0;
      let all = 0;
      for (let n = 0; n < 3 * count; n++) {
        const v = (modes.shapes[base + n] as number) ** 2;
        all += v;
        if (n % 3 === 2) up += v;
      }
      return up < 0.01 * all;
    });
    return flat.slice(0, 6);
  },
);

const shaft = { length: 0.4, EI: 600, massPerLength: 0.9 };

/** A small rigid hoop, all of it inside one block, with an even neck on it. */
function neckOnBlock(blockMass: number, slip: Readonly<Record<string, number>>): BodyShellSpec {
  const box = hoop({});
  const outline = Float64Array.from({ length: 72 }, (_, k) => {
    const angle = (Math.PI * (k >> 1)) / 18;
    return 0.01 * (k % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });
  const wood = isotropic(1e9, 0.3, 0.1);
  const station = {
    EA: 1e7,
    EIz: shaft.EI * (slip["stiffness"] ?? 1),
    EIy: 4 * shaft.EI,
    GJ: 500,
    polar: 2e-4,
    massPerLength: shaft.massPerLength * (slip["mass"] ?? 1),
    centre: 0,
  };
  return {
    ...box,
    heights: { depthAtTail: 0.01, depthAtNeck: 0.01, length: 0.02 },
    sides: box.sides && {
      ...box.sides,
      outline,
      plies: [{ material: wood, thickness: 0.001, grainAngle: 0 }],
    },
    blocks: [{ name: "block", centre: [0, 0, -0.005], size: [0.03, 0.03, 0.02], mass: blockMass }],
    neck: {
      from: [0, 0, -0.005],
      to: [shaft.length, 0, -0.005],
      stations: [
        { s: 0, ...station },
        { s: 1, ...station },
      ],
      lossE: 0,
      lossG: 0,
      headMass: 0,
      headCentre: [shaft.length, 0, -0.005],
      attach: "block",
      tongue: null,
    },
  };
}

const parameter = (frequency: number): number =>
  Math.sqrt(2 * Math.PI * frequency) * (shaft.massPerLength / shaft.EI) ** 0.25 * shaft.length;

for (const [title, mass, roots] of [
  ["free-free neck (on a block without weight)", 1e-5, [4.73004, 7.8532]],
  ["neck on a block of great weight", 1e5, [1.8751, 4.69409]],
] as const) {
  proof(
    `${title}: beta L of upright bending`,
    {
      source: "BEAM",
      quoted: roots,
      relTol: 1e-3,
      because: "16 cubic elements; the block's own small weight or motion",
      mustNotice: { stiffness: 1.01, mass: 1.01 },
    },
    (slip) => {
      // upright bending comes at half of the sideways bending's frequencies
      const found = hertz(modesTo(bodyOf(neckOnBlock(mass, slip), 0.005), 2500));
      return roots.map((r) => {
        const asked = ((r / shaft.length) ** 2 * Math.sqrt(shaft.EI / shaft.massPerLength)) / (2 * Math.PI);
        const nearest = found.reduce((a, b) => (Math.abs(b - asked) < Math.abs(a - asked) ? b : a), 0);
        return parameter(nearest);
      });
    },
  );
}
