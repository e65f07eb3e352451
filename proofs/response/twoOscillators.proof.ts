/** The coupled body reduced to one plate mode and the hole, against the two-oscillator model of the guitar. */
import { opened, quiet } from "#engine/numerics";
import { coupleBody, forcedResponse } from "#engine/response";
import { proof } from "#proofs/harness";
import { twoOscillators } from "./textbook.ts";

const turn = 2 * Math.PI;
// Published: f- 104, f_h 127, f+ 219 Hz; from them f_p 206.514 (hole closed, air spring kept) and f_ph 114.038 Hz.
const [fh, fp, fph] = [127, 206.514, 114.038];
/** The plate in vacuo: the air spring's own part, (f_ph^2/f_h)^2, taken from the square. */
const inVacuo = Math.sqrt(fp ** 2 - (fph ** 2 / fh) ** 2);

const christensen = (slip: Readonly<Record<string, number>>) =>
  twoOscillators({
    plate: turn * inVacuo * (slip.plate ?? 1),
    hole: turn * fh * (slip.hole ?? 1),
    coupling: turn * fph * (slip.coupling ?? 1),
  });

proof(
  "coupleBody with one plate mode returns the two coupled frequencies",
  {
    source: "CHRISTENSEN-1980 (couple.cv80.fp)",
    quoted: [104, 219],
    absTol: 0.01,
    because: "the inputs are printed to 0.001 Hz",
    mustNotice: { plate: 1.002, hole: 1.002, coupling: 1.002 },
  },
  (slip) => opened(coupleBody(christensen(slip), quiet)).frequency.slice(0, 2),
);

proof(
  "f- f+ = f_plate(in vacuo) f_hole, and f-^2 + f+^2 = f_plate(hole closed)^2 + f_hole^2",
  {
    source: "CLOSED-FORM determinant and trace of the two-oscillator problem (physics: exact only so)",
    quoted: [inVacuo * fh, fp ** 2 + fh ** 2],
    relTol: 1e-7,
    because: "identities; what is left is the radiation of the heavy plate, some 1e-9",
    mustNotice: { plate: 1.0001, hole: 1.0001, coupling: 1.001 },
  },
  (slip) => {
    const [low, high] = opened(coupleBody(christensen(slip), quiet)).frequency;
    // The product does not know the coupling, the sum does: with the coupling wrong only the sum may fail.
    return [low * high, low ** 2 + high ** 2];
  },
);

proof(
  "net volume flow over plate flow is -r^2/(1 - r^2), r = f/f_hole: it falls as f^2 below main air",
  {
    source: "CLOSED-FORM hole on its air spring driven by the plate",
    quoted: [10, 20, 40, 80, 160].map((f) => -((f / fh) ** 2) / (1 - (f / fh) ** 2)),
    relTol: 1e-6,
    because: "exact but for radiation, which the heavy plate keeps near nothing",
    mustNotice: { hole: 1.001, holeShut: 0 },
  },
  (slip) =>
    [10, 20, 40, 80, 160].map((f) => {
      const r = opened(forcedResponse(christensen(slip), 0, turn * f));
      const net = slip.holeShut === 0 ? r.plateVelocity : r.volumeVelocity;
      const { plateVelocity: p } = r;
      return (net.re * p.re + net.im * p.im) / (p.re ** 2 + p.im ** 2);
    }),
);
