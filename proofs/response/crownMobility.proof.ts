/** Mobility of the coupled structure where it must reduce to a supported plate, to a rigid body, to a static spring. */
import { opened, quiet } from "#engine/numerics";
import { type BodyResponse, coupleStructure, crownMobility } from "#engine/response";
import { proof } from "#proofs/harness";
import { boxBack, boxDepth, boxTop } from "../../engine/response/boxPlates.fixture.ts";
import { boxMass, supportedModes } from "../../engine/response/supportedPlate.fixture.ts";
import { type BoxOptions, boxCrowns, wholeBox } from "../../engine/response/wholeBox.fixture.ts";

/** No air, inside or out. */
const bare = (change: BoxOptions = {}): BodyResponse => {
  const box = wholeBox({ rim: "held", outside: "none", cavity: [1, 1], ...change });
  return opened(coupleStructure({ ...box, cavity: null }, quiet));
};

const crown = boxCrowns[4];
const frequencies = [40, 150, 205, 300, 417, 600];

/** Closed form: sum over many modes of i w phi(x)^2/(wi^2 (1 + i eta) - w^2). */
function plateMobility(f: number, eta: number): number {
  const { length: a, width: b, massPerArea, D1, D2, D3 } = boxTop;
  const w = 2 * Math.PI * f;
  let [re, im] = [0, 0];
  for (let m = 1; m < 60; m++) {
    for (let n = 1; n < 60; n++) {
      const [u, v] = [(m / a) ** 2, (n / b) ** 2];
      const square = (Math.PI ** 4 * (D1 * u * u + 2 * D3 * u * v + D2 * v * v)) / massPerArea;
      const phi = Math.sin((m * Math.PI * crown.x) / a) * Math.sin(n * Math.PI * (crown.y / b + 0.5));
      const part = square - w * w;
      const s = ((4 * phi * phi) / (massPerArea * a * b)) * (w / (part * part + (square * eta) ** 2));
      re += s * square * eta;
      im += s * part;
    }
  }
  return Math.hypot(re, im);
}

proof(
  "normal mobility of a crown on a supported plate, magnitude from 40 to 600 Hz, on and off resonance",
  {
    source: "LEISSA-1969 ch. 9, modes in closed form, 3,481 of them",
    quoted: frequencies.map((f) => plateMobility(f, boxTop.lossFactor)),
    relTol: 4e-3,
    because:
      "45 modes and the static rest of 1,500 stand for all; the rest is taken as quasi-static, which costs (600/2,500)^2 of its small part",
    mustNotice: { residual: 0, mass: 1.01, loss: 1.05 },
  },
  (slip) => {
    const top = {
      count: 45,
      lossFactor: boxTop.lossFactor * (slip.loss ?? 1),
      massPerArea: boxTop.massPerArea * (slip.mass ?? 1),
    };
    const body = bare({ top, flexible: 1500 });
    const d = 12 * 18 + 12;
    return frequencies.map((f) => {
      const kept = slip.residual === 0 ? { ...body, residual: new Float64Array(18 * 18) } : body;
      const y = crownMobility(kept, 2 * Math.PI * f);
      return Math.hypot(y.re[d], y.im[d]);
    });
  },
);

proof(
  "a pull along the string at height h is a push at the plate and a moment: static rocking compliance over h^2",
  {
    source: "CLOSED-FORM rotation compliance of the supported plate, 1,500 modes",
    quoted: rockingCompliance(),
    relTol: 1e-6,
    because: "static limit of the mobility at 0.02 Hz against the sum itself",
    mustNotice: { height: 1.001 },
  },
  (slip) => {
    const height = 0.014 * (slip.height ?? 1);
    const body = bare({ crowns: boxCrowns.map((c) => ({ ...c, height })), flexible: 1500 });
    const w = 2 * Math.PI * 0.02;
    return crownMobility(body, w).im[14 * 18 + 14] / w / 0.014 ** 2;
  },
);

function rockingCompliance(): number {
  const scale = 2 / Math.sqrt(boxTop.massPerArea * boxTop.length * boxTop.width);
  return supportedModes({ ...boxTop, count: 1500 }).reduce((sum, { m, n, omega }) => {
    const u = (m * Math.PI) / boxTop.length;
    const slope = scale * u * Math.cos(u * crown.x) * Math.sin(n * Math.PI * (crown.y / boxTop.width + 0.5));
    return sum + (slope / omega) ** 2;
  }, 0);
}

proof(
  "below all modes the free body recoils as its mass and moments of inertia: -w Im Y of a rigid body",
  {
    source: "CLOSED-FORM rigid body: r' M^-1 r, M of rim and both plates about the body's origin",
    quoted: rigidMobility(),
    relTol: 2e-5,
    because: "at 0.2 Hz the elastic part is (0.2/97)^2 = 4e-6 of it",
    mustNotice: { rimMass: 1.001, backMass: 1.01 },
  },
  (slip) => {
    const body = bare({
      rim: 1.4 * (slip.rimMass ?? 1),
      back: { massPerArea: boxBack.massPerArea * (slip.backMass ?? 1) },
    });
    const w = 2 * Math.PI * 0.2;
    const y = crownMobility(body, w);
    return [12, 13, 14].map((d) => -w * y.im[d * 18 + d]);
  },
);

/** By hand: two even sheets and the box that stands for the rim. */
function rigidMobility(): number[] {
  const sheet = (perArea: number, z: number) =>
    boxMass(
      perArea * boxTop.length * boxTop.width,
      [boxTop.length / 2, 0, z],
      [boxTop.length, boxTop.width, 0],
    );
  const rim = boxMass(1.4, [0.35, 0, -0.05], [0.7, 0.3, 0.1]);
  const top = sheet(boxTop.massPerArea, 0);
  const back = sheet(boxBack.massPerArea, -boxDepth);
  const mass = Array.from(rim, (v, k) => v + top[k] + back[k]);
  const { x, y, height: z } = crown;
  return [
    [0, 0, 1, y, -x, 0],
    [0, 1, 0, -z, 0, x],
    [1, 0, 0, 0, z, -y],
  ].map((r) => {
    const a = solve6(mass, r);
    return r.reduce((sum, v, k) => sum + v * a[k], 0);
  });
}

/** Gaussian elimination of a positive definite 6 x 6, kept apart from the engine's own solvers. */
function solve6(matrix: readonly number[], right: readonly number[]): number[] {
  const a = Array.from({ length: 6 }, (_, i) => [...matrix.slice(6 * i, 6 * i + 6), right[i]]);
  for (let k = 0; k < 6; k++) {
    for (let i = 0; i < 6; i++) {
      if (i === k) continue;
      const f = a[i][k] / a[k][k];
      for (let j = k; j < 7; j++) a[i][j] -= f * a[k][j];
    }
  }
  return a.map((row, i) => row[6] / row[i]);
}

proof(
  "mean conductance of a supported orthotropic plate, 0.5 to 10 kHz, over the mean-value mobility that the response states",
  {
    source: "EGE-2013 (skudrzyk): n(f)/(4M), with D' = sqrt(D1 D2)",
    quoted: 1,
    relTol: 0.12,
    because:
      "some 75 modes and six places scatter by a tenth about the mean; D3 is near the root of D1 D2, as the formula wants",
    mustNotice: { mass: 1.5, lostHalf: 0.5 },
  },
  (slip) => {
    // D3 of a plate that is an isotropic one stretched along the grain: exact case of the formula.
    const D3 = Math.sqrt(boxTop.D1 * boxTop.D2);
    const crowns = boxCrowns.map((c, k) => ({
      ...c,
      x: 0.1 + 0.04 * k,
      y: 0.02 * [-7, -4, -1, 2, 4, 6][k],
    }));
    const plate = { D3, count: 120, massPerArea: boxTop.massPerArea * (slip.mass ?? 1) };
    const body = bare({ top: plate, back: { count: 1 }, crowns, flexible: 120 });
    let sum = 0;
    const steps = 1200;
    for (let k = 0; k < steps; k++) {
      const y = crownMobility(body, 2 * Math.PI * (500 + (9500 * (k + 0.5)) / steps));
      for (let c = 0; c < 6; c++) sum += y.re[3 * c * 19];
    }
    const stated = opened(
      coupleStructure(
        wholeBox({ rim: "held", outside: "none", cavity: [1, 1], top: { D3, count: 4 } }),
        quiet,
      ),
    ).meanMobility;
    return ((sum / (6 * steps)) * (slip.lostHalf ?? 1)) / (stated ?? 0);
  },
);
