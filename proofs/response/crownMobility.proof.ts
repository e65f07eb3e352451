/** Mobility of the coupled body where it must reduce to a supported plate, to a rigid body, to a static spring. */
import { opened, quiet } from "#engine/numerics";
import { type BodyParts, coupleBody, crownMobility } from "#engine/response";
import { proof } from "#proofs/harness";
import {
  backPlate,
  boxBody,
  modalFlexibility,
  sixCrowns,
  topPlate,
} from "../../engine/response/body.fixture.ts";
import { supportedPlateModes } from "../../engine/response/supportedPlate.fixture.ts";

/** No air to speak of, inside or out: the plate alone, its rim held. */
function bare(change: Partial<BodyParts> = {}): BodyParts {
  const { cavity } = boxBody();
  const air = { ...cavity.air, density: 1e-9 };
  return boxBody({
    rim: "held",
    outsideAir: "none",
    cavity: { ...cavity, air, leak: 0, wallArea: 0 },
    ...change,
  });
}

const crown = sixCrowns[4];
const frequencies = [40, 150, 205, 300, 417, 600];

/** Closed form: sum over many modes of i w phi(x)^2/(wi^2 (1 + i eta) - w^2), eta as viscous i w wi eta. */
function plateMobility(f: number, eta: number): [number, number] {
  const { length: a, width: b, massPerArea, D1, D2, D3 } = topPlate;
  const w = 2 * Math.PI * f;
  let [re, im] = [0, 0];
  for (let m = 1; m < 60; m++) {
    for (let n = 1; n < 60; n++) {
      const [u, v] = [(m / a) ** 2, (n / b) ** 2];
      const square = (Math.PI ** 4 * (D1 * u * u + 2 * D3 * u * v + D2 * v * v)) / massPerArea;
      const phi = Math.sin((m * Math.PI * crown.x) / a) * Math.sin(n * Math.PI * (crown.y / b + 0.5));
      const part = square - w * w;
      const loss = w * Math.sqrt(square) * eta;
      const s = ((4 * phi * phi) / (massPerArea * a * b)) * (w / (part * part + loss * loss));
      re += s * loss;
      im += s * part;
    }
  }
  return [re, im];
}

proof(
  "normal mobility of a crown on a supported plate, magnitude from 40 to 600 Hz, on and off resonance",
  {
    source: "LEISSA-1969 ch. 9, modes in closed form, 3,481 of them",
    quoted: frequencies.map((f) => Math.hypot(...plateMobility(f, topPlate.lossFactor))),
    relTol: 4e-3,
    because:
      "45 modes and the static rest of 1,500 stand for all; the rest is taken as quasi-static, which costs (600/2,500)^2 of its small part",
    mustNotice: { residual: 0, mass: 1.01, loss: 1.05 },
  },
  (slip) => {
    const plate = {
      ...topPlate,
      count: 45,
      lossFactor: topPlate.lossFactor * (slip.loss ?? 1),
      massPerArea: topPlate.massPerArea * (slip.mass ?? 1),
    };
    const flexible = bare({
      top: supportedPlateModes(plate),
      bridgeFlexibility: modalFlexibility(plate, sixCrowns, 1500),
    });
    const body = opened(coupleBody(flexible, quiet));
    const d = 12 * 18 + 12;
    return frequencies.map((f) => {
      const y = crownMobility(
        slip.residual === 0 ? { ...body, residual: new Float64Array(18 * 18) } : body,
        2 * Math.PI * f,
      );
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
    const crowns = sixCrowns.map((c) => ({ ...c, height }));
    const body = opened(
      coupleBody(bare({ crowns, bridgeFlexibility: modalFlexibility(topPlate, sixCrowns, 1500) }), quiet),
    );
    const w = 2 * Math.PI * 0.02;
    return crownMobility(body, w).im[14 * 18 + 14] / w / 0.014 ** 2;
  },
);

function rockingCompliance(): number {
  const c = modalFlexibility(topPlate, sixCrowns, 1500);
  return c[(24 + 4) * 36 + 24 + 4];
}

proof(
  "below all modes the free body recoils as its mass and moments of inertia: -w Im Y of a rigid body",
  {
    source: "CLOSED-FORM rigid body: r' M^-1 r, M of rim and both plates about the body's origin",
    quoted: rigidMobility(),
    relTol: 2e-5,
    because: "at 0.2 Hz the elastic part is (0.2/97)^2 = 4e-6 of it",
    mustNotice: { rimMass: 1.001, backDepth: 1.02 },
  },
  (slip) => {
    const { rim, backSeat } = boxBody();
    const mass = (rim as { mass: Float64Array }).mass.map((v) => v * (slip.rimMass ?? 1));
    const seat = { ...backSeat, depth: backSeat.depth * (slip.backDepth ?? 1) };
    const body = opened(coupleBody(bare({ rim: { mass }, backSeat: seat }), quiet));
    const w = 2 * Math.PI * 0.2;
    const y = crownMobility(body, w);
    return [12, 13, 14].map((d) => -w * y.im[d * 18 + d]);
  },
);

/** By hand: the plates as thin sheets summed point by point, the rim as the box it is. */
function rigidMobility(): number[] {
  const { backSeat, rim } = boxBody();
  const mass = Array.from((rim as { mass: Float64Array }).mass);
  const add = (m: number, x: number, y: number, z: number) => {
    const rows = [
      [1, 0, 0, 0, z, -y],
      [0, 1, 0, -z, 0, x],
      [0, 0, 1, y, -x, 0],
    ];
    for (let i = 0; i < 6; i++) {
      for (let j = 0; j < 6; j++) mass[6 * i + j] += m * rows.reduce((s, r) => s + r[i] * r[j], 0);
    }
  };
  const cells = 200;
  for (let i = 0; i < cells; i++) {
    for (let j = 0; j < cells; j++) {
      const x = (topPlate.length * (i + 0.5)) / cells;
      const y = topPlate.width * ((j + 0.5) / cells - 0.5);
      const area = (topPlate.length * topPlate.width) / cells ** 2;
      add(topPlate.massPerArea * area, x, y, 0);
      const tilt = Math.atan(backSeat.slope);
      add(backPlate.massPerArea * area, x * Math.cos(tilt), y, -backSeat.depth - x * Math.sin(tilt));
    }
  }
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
