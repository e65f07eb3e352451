import {
  type BridgeModes,
  type CoupledModes,
  coupledString,
  couplingStrength,
  noteBoard,
  wolfIndex,
} from "#engine/notes";
import { brent, opened, quiet } from "#engine/numerics";
import type { StretchedString } from "#engine/strings";
import { proof, type Slips } from "#proofs/harness";
import { checkValue } from "../strings/checkValue.ts";

const frequency = 196;
const length = 0.65;
const stringMass = 2e-3;

/** A flexible, lossless string tuned to `frequency`. */
const string: StretchedString = {
  length,
  linearDensity: stringMass / length,
  tension: (stringMass / length) * (2 * length * frequency) ** 2,
  bendingStiffness: 0,
  loss: { friction: 0, bending: 0, air: 0 },
};

/** One mode on partial n that moves the crown along the normal: modal mass so that string mass over it is `massRatio`. */
function oneMode(n: number, massRatio: number, q: number, offset = 0): BridgeModes {
  return {
    omega: Float64Array.of(2 * Math.PI * (n * frequency + offset)),
    q: Float64Array.of(q),
    shape: Float64Array.of(Math.sqrt(massRatio / stringMass), 0, 0),
    residual: new Float64Array(9),
    pressure: new Float64Array(1),
  };
}

/** The two modes in which partial n and the body mode share the motion. */
function sharing(modes: CoupledModes, n: number): readonly [number, number] {
  const moving = Array.from({ length: modes.count }, (_, r) => r).filter(
    (r) => modes.motion[4 * r] !== 0 && (modes.partial[r] === n || modes.modeIndex[r] === 0),
  );
  if (moving.length !== 2) throw new Error(`${moving.length} modes share partial ${n}`);
  return [moving[0]!, moving[1]!];
}

/** Square of the difference of the two complex frequencies: its real part changes sign where strong coupling begins. */
function splitSquare(n: number, massRatio: number, q: number): number {
  const modes = opened(coupledString(string, oneMode(n, massRatio, q), 3 * n * frequency));
  const [a, b] = sharing(modes, n);
  return (modes.omega[a]! - modes.omega[b]!) ** 2 - (modes.decay[a]! - modes.decay[b]!) ** 2;
}

const threshold = checkValue<number>("gough.crit.derived");
const q = threshold.inputs["Q"]!;

function thresholdOf(n: number, slip: Slips): number {
  const at = brent(
    (ratio) => splitSquare(n, ratio * n * n * (slip["mass"] ?? 1), q * (slip["q"] ?? 1)),
    1e-4,
    2e-3,
    1e-9,
  );
  return opened(at);
}

proof(
  "weak and strong coupling part at m/(n^2 M) = pi^2/(8 Q^2) in the full eigenproblem, n = 1 and 2",
  {
    source: threshold.source,
    quoted: [threshold.value, threshold.value],
    relTol: 0.01,
    because:
      "two-mode result; the string's other partials and its end stiffness shift it by terms of order 1/Q",
    mustNotice: { mass: 1.02, q: 1.01 },
  },
  (slip) => [thresholdOf(1, slip), thresholdOf(2, slip)],
);

proof(
  "K is 1 at that threshold",
  {
    source: threshold.source,
    quoted: [1, 1, 1],
    relTol: 1e-5,
    because: "the same formula, five digits quoted",
    mustNotice: { mass: 1.001, q: 1.001 },
  },
  (slip) =>
    [1, 2, 3].map((n) =>
      couplingStrength(
        n,
        threshold.value * n * n * (slip["mass"] ?? 1),
        q * (slip["q"] ?? 1),
        Number.POSITIVE_INFINITY,
      ),
    ),
);

const split = checkValue<number>("gough.split");
proof(
  "splitting at twice the threshold, relative to the frequency",
  {
    source: split.source,
    quoted: split.value,
    relTol: 0.02,
    because: "the source's formula is to first order in the mass ratio",
    mustNotice: { mass: 1.05, q: 1.05 },
  },
  (slip) => {
    const ratio = split.inputs["m/M"]! * (slip["mass"] ?? 1);
    const modes = opened(
      coupledString(string, oneMode(1, ratio, split.inputs["Q"]! * (slip["q"] ?? 1)), 3 * frequency),
    );
    const [a, b] = sharing(modes, 1);
    return (modes.omega[b]! - modes.omega[a]!) / (2 * Math.PI * frequency);
  },
);

const strong = checkValue<number>("gough.strong");
proof(
  "both modes of a strongly coupled pair have twice the body's Q",
  {
    source: strong.source,
    quoted: [strong.value, strong.value],
    relTol: 0.01,
    because: "to first order; the pair is split by 1 %, so their Q differ by as much",
    mustNotice: { q: 1.02 },
  },
  (slip) => {
    const modes = opened(
      coupledString(string, oneMode(1, split.inputs["m/M"]!, 50 * (slip["q"] ?? 1)), 3 * frequency),
    );
    return sharing(modes, 1).map((r) => modes.omega[r]! / (2 * modes.decay[r]!) / 50);
  },
);

/** The C4 string of the source on a bridge of real impedance: one mode so broad that its mobility is flat and real. */
function conductanceRate(impedance: number, slip: Slips): number {
  const row = checkValue<number[]>("couple.decay");
  const f0 = row.inputs["f0"]! * (slip["frequency"] ?? 1);
  const zs = row.inputs["Zs"]! * (slip["impedance"] ?? 1);
  const c4 = 0.62;
  // Zs = mu c with c = 2 L f0
  const linearDensity = zs / (2 * c4 * f0);
  const s: StretchedString = {
    length: c4,
    linearDensity,
    tension: linearDensity * (2 * c4 * f0) ** 2,
    bendingStiffness: 0,
    loss: { friction: 0, bending: 0, air: 0 },
  };
  const broad = 0.02;
  const omega = 2 * Math.PI * f0;
  const body: BridgeModes = {
    omega: Float64Array.of(omega),
    q: Float64Array.of(broad),
    shape: Float64Array.of(Math.sqrt((omega / (broad * impedance)) * (slip["conductance"] ?? 1)), 0, 0),
    residual: new Float64Array(9),
    pressure: new Float64Array(1),
  };
  const modes = opened(coupledString(s, body, 1.5 * f0));
  const r = Array.from(modes.partial).findIndex((n, i) => n === 1 && modes.motion[4 * i] !== 0);
  return modes.decay[r]!;
}

const decay = checkValue<number[]>("couple.decay");
proof(
  "decay through a bridge conductance: dB/s and T60 of a C4 string on 800 kg/s, dB/s on 500, 1000 and 2000",
  {
    source: decay.source,
    quoted: [...decay.value, 18.2, 9.1, 4.5],
    relTol: 0.012,
    because:
      "published to two or three digits; the rate 2 f Z G is to first order in Z G (0.4 % at 500 kg/s)",
    mustNotice: { conductance: 1.03, impedance: 1.03, frequency: 1.03 },
  },
  (slip) => {
    const dB = (impedance: number) => 20 * Math.LOG10E * conductanceRate(impedance, slip);
    return [dB(800), Math.log(1000) / conductanceRate(800, slip), dB(500), dB(1000), dB(2000)];
  },
);

/** Shift of the fundamental, relative, by a weakly coupled mode `offset` Hz above it. */
function pitchShift(offset: number, slip: Slips): number {
  const body = oneMode(1, 1e-4 * (slip["mass"] ?? 1), 200, offset);
  const modes = opened(coupledString(string, body, 2 * frequency));
  const r = Array.from(modes.partial).findIndex((n, i) => n === 1 && modes.motion[4 * i] !== 0);
  return modes.omega[r]! / (2 * Math.PI * frequency) - 1;
}

proof(
  "a mode above lowers the string, a mode below raises it: shift -Z Im(Y)/pi from the reactance alone",
  {
    source:
      "CLOSED-FORM first order in the mobility: shift/f = -Z Im(Y)/pi, Y = i w/(M (w_b^2 - w^2 + i w_b^2/Q))",
    quoted: [15, -15, 40, -40].map((offset) => {
      const [w, wb] = [frequency, frequency + offset].map((f) => 2 * Math.PI * f) as [number, number];
      const [a, b] = [wb * wb - w * w, (wb * wb) / 200];
      const impedance = 2 * stringMass * frequency;
      return (-impedance * w * ((1e-4 / stringMass) * (a / (a * a + b * b)))) / Math.PI;
    }),
    relTol: 0.01,
    because: "second order in the coupling is 0.1 % here, the slope of the mobility 0.5 %",
    mustNotice: { mass: 1.02, side: -1 },
  },
  (slip) => [15, -15, 40, -40].map((offset) => pitchShift(offset * (slip["side"] ?? 1), slip)),
);

proof(
  "the wolf index is 1 where the full eigenproblem turns from weak to strong, for a mode on partial 1 and on 2",
  {
    source: threshold.source,
    quoted: [1, 1],
    relTol: 0.01,
    because:
      "two-mode result against the whole string; the pair of partial n outweighs all others at coincidence",
    mustNotice: { mass: 1.05, q: 1.02 },
  },
  (slip) =>
    [1, 2].map((n) => {
      const ratio = thresholdOf(n, {}) * n * n * (slip["mass"] ?? 1);
      return wolfIndex(string, oneMode(n, ratio, q * (slip["q"] ?? 1)), length / 4).index;
    }),
);

const t60 = checkValue<number>("sdof.t60");
proof(
  "T60 of a partial on a bridge that hardly yields, times f/Q",
  {
    source: t60.source,
    quoted: [t60.value, t60.value],
    relTol: 1e-4,
    because: "ln(1000)/pi; the bridge takes less than 1e-5 of the loss",
    mustNotice: { loss: 1.01 },
  },
  (slip) => {
    const loss = 1 / 800;
    const design = {
      linearDensity: string.linearDensity,
      bendingStiffness: 0,
      axialStiffness: 2e4,
      breakingForce: 300,
      loss: { friction: loss * (slip["loss"] ?? 1), bending: 0, air: 0 },
      diameter: 1e-3,
      spread: { linearDensity: 0, bendingStiffness: 0, axialStiffness: 0, breakingForce: 0, lossFactor: 1 },
    };
    const body = oneMode(1, 1e-9, 30, 800);
    const board = noteBoard(
      {
        strings: [{ string: 1, frequency, design, scaleLength: length, fretDistance: Float64Array.of(0) }],
        bodies: [body],
        frets: 0,
        validToHz: 300,
      },
      quiet,
    );
    return opened(board)
      .noteBoard[0]!.partials.slice(0, 2)
      .map((p) => p.t60S! * p.frequencyHz * loss);
  },
);
