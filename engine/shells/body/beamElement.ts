import { frameAxes } from "./frameLine.ts";

/** Section of a straight piece of beam; bending `up` and `across` as in `frameAxes`. */
export interface FrameSection {
  /** N */ readonly EA: number;
  /** Deflection along `up`, and along `across`; N m2. */
  readonly EIup: number;
  readonly EIacross: number;
  readonly GJ: number;
  /** Shear stiffness both ways, N; 0 means rigid in shear. */
  readonly GA: number;
  /** kg/m */ readonly massPerLength: number;
  /** Polar moment of inertia about the axis per length, kg m. */
  readonly polar: number;
  readonly lossE: number;
  readonly lossG: number;
}

export interface FrameElement {
  /** 12 x 12 row by row over ux uy uz rx ry rz of both ends, in the frame of the places. */
  readonly stiffness: Float64Array;
  readonly loss: Float64Array;
  readonly mass: Float64Array;
}

const gaussAt = [-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526];
const gaussWeight = [0.3478548451374538, 0.6521451548625461, 0.6521451548625461, 0.3478548451374538];

/**
 * Two-node beam in space, Timoshenko's with phi = 12 EI / (GA L2), stiff as the exact uniform beam under end loads:
 *   EI / (L3 (1 + phi)) [12, 6L, -12, 6L; (4 + phi) L2, -6L, (2 - phi) L2; ...]   (Przemieniecki 1968, from memory)
 * Mass: consistent with the deflection of that beam, linear along and in twist; the section's own rotary inertia in
 * bending left out. The loss takes lossE of the stretch and bending energy and lossG of shear and twist.
 */
export function beamElement(from: ArrayLike<number>, to: ArrayLike<number>, s: FrameSection): FrameElement {
  const { along, across, up, length: L } = frameAxes(from, to);
  const stiffness = new Float64Array(144);
  const loss = new Float64Array(144);
  const mass = new Float64Array(144);
  const put = (
    direction: readonly number[],
    first: number,
    end: number,
    value: number,
    row: Float64Array,
  ): void => {
    for (let k = 0; k < 3; k++) row[6 * end + first + k] += value * direction[k];
  };
  const add = (to: Float64Array, row: Float64Array, scale: number): void => {
    if (scale === 0) return;
    for (let i = 0; i < 12; i++) for (let j = 0; j < 12; j++) to[12 * i + j] += scale * row[i] * row[j];
  };
  const stiff = (row: Float64Array, scale: number, lossFactor: number): void => {
    add(stiffness, row, scale);
    add(loss, row, scale * lossFactor);
  };
  const row = (fill: (r: Float64Array) => void): Float64Array => {
    const r = new Float64Array(12);
    fill(r);
    return r;
  };
  const stretch = (direction: readonly number[], first: number): Float64Array =>
    row((r) => {
      put(direction, first, 0, -1, r);
      put(direction, first, 1, 1, r);
    });
  stiff(stretch(along, 0), s.EA / L, s.lossE);
  stiff(stretch(along, 3), s.GJ / L, s.lossG);
  // deflection d; slope of the section is -r.across for d = up (across x along = -up) and r.up for d = across
  for (const [d, turn, sign, EI] of [
    [up, across, -1, s.EIup],
    [across, up, 1, s.EIacross],
  ] as const) {
    const phi = s.GA > 0 ? (12 * EI) / (s.GA * L * L) : 0;
    const f = 1 / (1 + phi);
    // mean curvature, and the antisymmetric part with its shear: g = (dj - di)/L - (ti + tj)/2
    stiff(stretch(turn, 3), EI / L, s.lossE);
    const g = row((r) => {
      put(d, 0, 0, -1 / L, r);
      put(d, 0, 1, 1 / L, r);
      put(turn, 3, 0, -sign / 2, r);
      put(turn, 3, 1, -sign / 2, r);
    });
    stiff(g, ((12 * EI) / L) * f * f, s.lossE);
    if (s.GA > 0) stiff(g, s.GA * L * (phi * f) ** 2, s.lossG);
    for (let q = 0; q < 4; q++) {
      const xi = (1 + gaussAt[q]) / 2;
      const bubble = xi * (1 - xi);
      const c = -f * bubble * (1 - 2 * xi);
      const shape = row((r) => {
        put(d, 0, 0, 1 - xi - c, r);
        put(d, 0, 1, xi + c, r);
        put(turn, 3, 0, (sign * L * (bubble - c)) / 2, r);
        put(turn, 3, 1, (sign * L * (-bubble - c)) / 2, r);
      });
      add(mass, shape, (gaussWeight[q] / 2) * L * s.massPerLength);
    }
  }
  for (let q = 0; q < 4; q++) {
    const xi = (1 + gaussAt[q]) / 2;
    const w = (gaussWeight[q] / 2) * L;
    const linear = (first: number): Float64Array =>
      row((r) => {
        put(along, first, 0, 1 - xi, r);
        put(along, first, 1, xi, r);
      });
    add(mass, linear(0), w * s.massPerLength);
    add(mass, linear(3), w * s.polar);
  }
  return { stiffness, loss, mass };
}
