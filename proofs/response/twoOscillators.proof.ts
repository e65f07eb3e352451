/** The coupled structure reduced to one plate mode and the hole, against the two-oscillator model of the guitar. */
import { opened, quiet } from "#engine/numerics";
import { coupleStructure, forcedStructure, type StructureParts } from "#engine/response";
import { proof } from "#proofs/harness";
import { boxAir, wholeBox } from "../../engine/response/wholeBox.fixture.ts";

const turn = 2 * Math.PI;
// Published: f- 104, f_h 127, f+ 219 Hz; from them f_p 206.514 (hole closed, air spring kept) and f_ph 114.038 Hz.
const [fh, fp, fph] = [127, 206.514, 114.038];
/** The plate in vacuo: the air spring's own part, (f_ph^2/f_h)^2, taken from the square. */
const inVacuo = Math.sqrt(fp ** 2 - (fph ** 2 / fh) ** 2);

/**
 * One mode of one heavy square plate (a back so heavy that it stands still), one hole, one spring of air. With v the volume per unit
 * mode, kappa = rho c^2/V, L the hole's inertance:  hole^2 = kappa/L,  coupling^2 = kappa v/sqrt(L).
 */
function guitar(slip: Readonly<Record<string, number>>): StructureParts {
  const [length, massPerArea] = [0.4, 2e5];
  const plate = turn * inVacuo * (slip.plate ?? 1);
  const hole = turn * fh * (slip.hole ?? 1);
  const coupling = turn * fph * (slip.coupling ?? 1);
  // omega^2 = 4 pi^4 D/(sigma a^4)
  const D = (plate ** 2 * massPerArea * length ** 4) / (4 * Math.PI ** 4);
  const side = (2 * length) / Math.PI;
  const volume = (2 / Math.sqrt(massPerArea * length * length)) * side * side;
  const kappa = (coupling ** 2 / (hole * volume)) ** 2;
  const top = {
    length,
    width: length,
    massPerArea,
    D1: D,
    D2: D,
    D3: D,
    lossFactor: 0,
    count: 1,
    cells: [8, 8] as const,
  };
  return wholeBox({
    top,
    back: { ...top, massPerArea: 1e14, D1: 1e20, D2: 1e20, D3: 1e20 },
    rim: "held",
    crowns: [{ string: 1, x: 0.2, y: 0, height: 0.01 }],
    flexible: 1,
    cavity: [1, 1],
    volume: (boxAir.density * boxAir.soundSpeed ** 2) / kappa,
    inertance: kappa / hole ** 2,
    leak: 0,
    heat: 0,
    friction: 0,
    viscous: 0,
    outside: "none",
  });
}

proof(
  "coupleStructure with one plate mode returns the two coupled frequencies",
  {
    source: "CHRISTENSEN-1980 (couple.cv80.fp)",
    quoted: [104, 219],
    absTol: 0.01,
    because: "the inputs are printed to 0.001 Hz",
    mustNotice: { plate: 1.002, hole: 1.002, coupling: 1.002 },
  },
  (slip) => opened(coupleStructure(guitar(slip), quiet)).frequency.slice(0, 2),
);

proof(
  "f- f+ = f_plate(in vacuo) f_hole, and f-^2 + f+^2 = f_plate(hole closed)^2 + f_hole^2",
  {
    source: "CLOSED-FORM determinant and trace of the two-oscillator problem (physics: exact only so)",
    quoted: [inVacuo * fh, fp ** 2 + fh ** 2],
    relTol: 1e-7,
    because: "identities; the back's heavy plate still moves by 1e-9",
    mustNotice: { plate: 1.001, coupling: 1.001 },
  },
  (slip) => {
    const [low, high] = opened(coupleStructure(guitar(slip), quiet)).frequency;
    return [low * high, low ** 2 + high ** 2];
  },
);

proof(
  "net flow over the plate's flow is w^2/(w^2 - w_hole^2): it falls as the square of frequency below the main air",
  {
    source: "CLOSED-FORM two oscillators: the hole's own equation",
    quoted: [20, 40, 80, 160].map((f) => f ** 2 / (f ** 2 - fh ** 2)),
    relTol: 1e-6,
    because: "an identity at every frequency",
    mustNotice: { hole: 1.001, holeShut: 0 },
  },
  (slip) =>
    [20, 40, 80, 160].map((f) => {
      const { flow } = opened(forcedStructure(guitar(slip), 0, turn * f));
      const [plate, hole] = [flow.im[0], slip.holeShut === 0 ? 0 : flow.im[3]];
      return (plate + hole) / plate;
    }),
);
