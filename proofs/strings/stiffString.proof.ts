import { opened } from "#engine/numerics";
import { designString, inharmonicity, stretched, stringPartials, tension } from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";
import { checkValue } from "./checkValue.ts";

const steel = (diameter: number) => opened(designString({ kind: "plain", diameter, material: "steel" }));

interface Worked {
  readonly mu: number;
  readonly T_N: number;
  readonly B: number;
}

for (const id of ["string.inh.formula", "string.inh.B3"]) {
  const row = checkValue<Worked>(id);
  const { d, L, f0 } = row.inputs as { d: number; L: number; f0: number };
  proof(
    `${id}: linear density, tension and inharmonicity of plain steel`,
    {
      source: row.source,
      quoted: [row.value.mu, row.value.T_N, row.value.B],
      relTol: 1e-5,
      because: "worked from the same formulas to seven digits",
      mustNotice: { diameter: 1.001, length: 1.001, stiffness: 1.001 },
    },
    (slip) => {
      const design = steel(d * (slip["diameter"] ?? 1));
      const length = L * (slip["length"] ?? 1);
      const pull = tension(design.linearDensity, length, f0);
      const stiffness = design.bendingStiffness * (slip["stiffness"] ?? 1);
      return [design.linearDensity, pull, inharmonicity(stiffness, pull, length)];
    },
  );
}

const e4 = checkValue<{ f1: number; f10: number; cents10: number }>("string.inh.formula");
proof(
  "string.inh.formula: partials 1 and 10 of the stiff string, Hz, and cents by which the tenth is sharp",
  {
    source: e4.source,
    quoted: [e4.value.f1, e4.value.f10, e4.value.cents10],
    relTol: 1e-5,
    because: "worked from the same formulas to seven digits",
    mustNotice: { diameter: 1.01, order: 1.1 },
  },
  (slip) => {
    const { d, L, f0 } = e4.inputs as { d: number; L: number; f0: number };
    const s = stretched(steel(d * (slip["diameter"] ?? 1)), L, f0);
    const { omega } = stringPartials(s, 11);
    const f10 = omega[Math.round(10 * (slip["order"] ?? 1)) - 1]! / (2 * Math.PI);
    return [omega[0]! / (2 * Math.PI), f10, 1200 * Math.log2(f10 / (10 * f0))];
  },
);

const young = checkValue<number>("string.inh.young");
proof(
  "Young's inharmonicity of steel wire: cents over n^2, times f^2 L^4/d^2 in cm",
  {
    source: young.source,
    quoted: young.value,
    relTol: 0.04,
    because: "the published constant belongs to E = 200 GPa; ours is 207 GPa, 3.5 % higher",
    mustNotice: { stiffness: 1.05, diameter: 1.05 },
  },
  (slip) => {
    const [d, L, f] = [0.43e-3, 0.648, 247];
    const wire = steel(d * (slip["diameter"] ?? 1));
    const s = {
      ...stretched(wire, L, f),
      bendingStiffness: wire.bendingStiffness * (slip["stiffness"] ?? 1),
    };
    const n = 5;
    const cents = 1200 * Math.log2(stringPartials(s, n).omega[n - 1]! / (2 * Math.PI * n * f));
    return ((cents / n ** 2) * (f ** 2 * (100 * L) ** 4)) / (100 * d) ** 2;
  },
);

interface C4 {
  readonly mu: number;
  readonly T: number;
  readonly Zs: number;
  readonly mass: number;
}
const c4 = checkValue<C4>("couple.c4string");
proof(
  "couple.c4string: linear density, tension, impedance and mass of a plain steel C4 string",
  {
    source: c4.source,
    quoted: [c4.value.mu, c4.value.T, c4.value.Zs, c4.value.mass],
    relTol: 5e-3,
    because: "published to two or three digits",
    mustNotice: { diameter: 1.01, length: 1.02 },
  },
  (slip) => c4Numbers(slip),
);

function c4Numbers(slip: Slips): number[] {
  const length = 0.62 * (slip["length"] ?? 1);
  const mu = steel(1e-3 * (slip["diameter"] ?? 1)).linearDensity;
  const pull = tension(mu, length, 261.6256);
  return [mu, pull, Math.sqrt(mu * pull), mu * length];
}

const wire = checkValue<{ rho: number; E_GPa: number; UTS_MPa: number }>("wire.a228");
proof(
  "wire.a228: density, Young's modulus and strength of music wire of 0.5 mm",
  {
    source: wire.source,
    quoted: [wire.value.rho, wire.value.E_GPa * 1e9, wire.value.UTS_MPa * 1e6],
    relTol: 0.1,
    because:
      "rounded database values; makers quote 190 to 207 GPa, and strength falls with diameter through the quoted one",
    mustNotice: { stiffness: 1.05, strength: 1.15, density: 1.12 },
  },
  (slip) => {
    const d = 0.5e-3;
    const area = (Math.PI / 4) * d * d;
    const design = steel(d);
    return [
      (design.linearDensity / area) * (slip["density"] ?? 1),
      (design.axialStiffness / area) * (slip["stiffness"] ?? 1),
      (design.breakingForce / area) * (slip["strength"] ?? 1),
    ];
  },
);
