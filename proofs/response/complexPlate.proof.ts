/** Damped modes against the full complex eigenproblem of a plate whose three stiffnesses lose differently. */
import { opened, quiet } from "#engine/numerics";
import { coupleStructure, type StructureParts } from "#engine/response";
import { proof } from "#proofs/harness";
import { boxTop } from "../../engine/response/boxPlates.fixture.ts";
import { supportedModes } from "../../engine/response/supportedPlate.fixture.ts";
import { wholeBox } from "../../engine/response/wholeBox.fixture.ts";

/**
 * A supported orthotropic plate of sides a, b with loss factors of D1, D3, D2, and a point mass at (x, y):
 *   lambda_k = pi^4 (D1 (1 + i eta1) m4/a4 + 2 D3 (1 + i eta3) m2n2/(a2b2) + D2 (1 + i eta2) n4/b4)/sigma,
 *   1 = lambda M sum_k phi_k(x, y)^2/(lambda_k - lambda)
 * exact for as many modes as are taken. The mass mixes modes whose losses differ: the loss matrix is full.
 */
const etas = [0.008, 0.02, 0.05] as const;
const mass = 0.03;
const place = [0.17, 0.043] as const;
const count = 14;

interface Lossy {
  readonly re: number;
  readonly im: number;
  readonly phi: number;
}

function plateModes(slip: Readonly<Record<string, number>>): Lossy[] {
  const { length: a, width: b, massPerArea, D1, D2, D3 } = boxTop;
  const scale = 2 / Math.sqrt(massPerArea * a * b);
  return supportedModes({ ...boxTop, count }).map(({ m, n }) => {
    const [u, v] = [(m / a) ** 2, (n / b) ** 2];
    const parts = [D1 * u * u, 2 * D3 * u * v, D2 * v * v].map((d) => (Math.PI ** 4 * d) / massPerArea);
    const eta = [etas[0], etas[1], etas[2] * (slip.etaAcross ?? 1)];
    return {
      re: parts[0] + parts[1] + parts[2],
      im: parts[0] * eta[0] + parts[1] * eta[1] + parts[2] * eta[2],
      phi: scale * Math.sin((m * Math.PI * place[0]) / a) * Math.sin(n * Math.PI * (place[1] / b + 0.5)),
    };
  });
}

/** Roots of the secular equation by Newton from the undamped ones, found by halving between the poles. */
function exactFrequencies(wanted: number): number[] {
  const modes = plateModes({});
  const secular = (lr: number, li: number) => {
    let [sr, si, dr, di] = [1, 0, 0, 0];
    for (const { re, im, phi } of modes) {
      const [a, b] = [re - lr, im - li];
      const size = a * a + b * b;
      const [qr, qi] = [a / size, -b / size];
      // 1 - lambda M phi^2 q,  derivative -M phi^2 (q + lambda q^2)
      const f = mass * phi * phi;
      sr -= f * (lr * qr - li * qi);
      si -= f * (lr * qi + li * qr);
      const [q2r, q2i] = [qr * qr - qi * qi, 2 * qr * qi];
      dr -= f * (qr + lr * q2r - li * q2i);
      di -= f * (qi + lr * q2i + li * q2r);
    }
    return [sr, si, dr, di] as const;
  };
  const out: number[] = [];
  for (let k = 0; k < wanted; k++) {
    // The mass lowers: root k lies below pole k, above pole k - 1.
    let low = k === 0 ? 0 : modes[k - 1].re;
    let high = modes[k].re;
    for (let step = 0; step < 200; step++) {
      const middle = (low + high) / 2;
      const undamped = modes.reduce(
        (sum, { re, phi }) => sum - (middle * mass * phi * phi) / (re - middle),
        1,
      );
      if (undamped > 0) low = middle;
      else high = middle;
    }
    let [lr, li] = [(low + high) / 2, 0.02 * low];
    for (let step = 0; step < 60; step++) {
      const [sr, si, dr, di] = secular(lr, li);
      const size = dr * dr + di * di;
      lr -= (sr * dr + si * di) / size;
      li -= (si * dr - sr * di) / size;
    }
    const omega = Math.sqrt((Math.hypot(lr, li) + lr) / 2);
    out.push(omega / (2 * Math.PI), omega ** 2 / li);
  }
  return out;
}

function plateWithMass(slip: Readonly<Record<string, number>>): StructureParts {
  const box = wholeBox({
    top: { count },
    back: { count: 1, massPerArea: 1e9 },
    rim: "held",
    cavity: [1, 1],
    outside: "none",
  });
  const modes = plateModes(slip);
  const n = count + 1;
  const stiffness = new Float64Array(n * n);
  const inertia = new Float64Array(n * n);
  const loss = new Float64Array(n * n);
  modes.forEach(({ re, im }, i) => {
    stiffness[i * (n + 1)] = re;
    loss[i * (n + 1)] = im;
    inertia[i * (n + 1)] = 1;
  });
  // The back stays out of the way.
  stiffness[n * n - 1] = 1e12;
  inertia[n * n - 1] = 1;
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++)
      inertia[i * n + j] += mass * (slip.mass ?? 1) * modes[i].phi * modes[j].phi;
  const diagonalOnly = slip.fullLoss === 0;
  return {
    ...box,
    cavity: null,
    strings: null,
    body: {
      ...box.body,
      loss: diagonalOnly ? loss.map((v, k) => (k % (n + 1) === 0 ? 0.02 * stiffness[k] : v)) : loss,
    },
    matrices: { stiffness, mass: inertia },
  };
}

const wanted = 8;
proof(
  "frequencies and Q of the first eight damped modes of a supported plate with three loss factors and a point mass",
  {
    source: "CLOSED-FORM secular equation of the complex eigenproblem",
    quoted: exactFrequencies(wanted),
    relTol: 2e-6,
    because: "complex rotations to 1e-3 and second order beyond leave some 1e-7",
    mustNotice: { etaAcross: 1.02, mass: 1.02, fullLoss: 0 },
  },
  (slip) => {
    const body = opened(coupleStructure(plateWithMass(slip), quiet));
    return Array.from({ length: 2 * wanted }, (_, k) =>
      k % 2 ? body.q[(k - 1) / 2] : body.frequency[k / 2],
    );
  },
);
