/**
 * Eccentric Timoshenko beam of varying section along a mesh edge, glued to one face of the plate.
 *
 *    plate   i ----------- j      t along the edge, n the plate's outward normal, b = n x t;
 *    ======= glue ==========      glue line at the height g on n, the section's centroid at g + c;
 *    rib       o - - - - - o      psi = r.b + chi: turn of the rib's own cross-section about b
 *
 * Motion of the centroid: along t  u.t + g r.b + c psi,   along b  u.b - (g + c) r.t,   along n  u.n.
 * A glued rib takes the plate's motion at the glue line but keeps its own psi: with chi = 0 a square-cut end would
 * carry its full share of axial force at once and the rib would be too stiff; with its own psi the force builds up over
 * sqrt(0.4 E/G) heights, as shear lag demands, and falls to nothing at the end by itself.
 *
 * Strains: axial (mean over the element), bending (curvature linear), shear (constant), twist. Deflection and psi along
 * the edge are those of the exact Timoshenko beam of mean section, phi = 12 EI / (GAs L2).
 * Bending about the plate's normal is released: it neither strains the beam nor loads the drilling rotation (the plate
 * is far stiffer in its own plane; loading the drilling freedom stiffens a ribbed plate by 3 to 4 %).
 */
export interface BeamSection {
  /** N */ readonly EA: number;
  /** About its own centroid, bending along the normal; N m2. */ readonly EI: number;
  /** Shear stiffness, N; 0 means rigid in shear. */ readonly GAs: number;
  /** N m2 */ readonly GJ: number;
  /** Height of the glue line on the plate's normal, and of the centroid over the glue line, m. */
  readonly glue: number;
  readonly centroid: number;
  /** kg/m */ readonly massPerLength: number;
  /** Rotary inertia per length, kg m: about b (bending) and about t (twist), through the centroid. */
  readonly inertiaBending: number;
  readonly inertiaTwist: number;
  /** Loss factors of EA and EI, and of GAs and GJ. */
  readonly lossE: number;
  readonly lossG: number;
}

export interface EdgeBeam {
  /** 14 x 14 row by row over ux uy uz rx ry rz of i, of j, then chi of i and of j. */
  readonly stiffness: Float64Array;
  readonly loss: Float64Array;
  readonly mass: Float64Array;
  readonly scratch: Float64Array;
}

/** Motions of an edge beam. */
export const beamSize = 14;
const size = beamSize;

export function emptyEdgeBeam(): EdgeBeam {
  return {
    stiffness: new Float64Array(size * size),
    loss: new Float64Array(size * size),
    mass: new Float64Array(size * size),
    scratch: new Float64Array(5 * size),
  };
}

/** Gauss points and weights along the edge, 0 to 1. */
export const beamAt = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
export const beamWeight = [5 / 18, 8 / 18, 5 / 18] as const;

/** Fills `out` (in place). `tangent`, `normal`: unit vectors; `section(xi)`: at the fraction xi of the edge from i. */
export function edgeBeam(
  length: number,
  tangent: readonly number[],
  normal: readonly number[],
  section: (xi: number) => BeamSection,
  out: EdgeBeam,
): void {
  const t = tangent;
  const n = normal;
  const b = [n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]] as const;
  out.stiffness.fill(0);
  out.loss.fill(0);
  out.mass.fill(0);
  const ends = [section(0), section(1)] as const;
  const middle = section(0.5);
  // a rib that grows has an inclined axis: its strain takes the slope times the rise of the deflection
  const slope = (ends[1].glue + ends[1].centroid - ends[0].glue - ends[0].centroid) / length;
  const phi = middle.GAs > 0 ? (12 * middle.EI) / (middle.GAs * length * length) : 0;
  const f = 1 / (1 + phi);
  const row = out.scratch;
  const addPlateTurn = (r: number, end: number, scale: number): void => {
    for (let k = 0; k < 3; k++) row[size * r + 6 * end + 3 + k] += scale * b[k];
  };
  const addTurn = (r: number, end: number, scale: number): void => {
    addPlateTurn(r, end, scale);
    row[size * r + 12 + end] += scale;
  };
  const addRise = (r: number, end: number, scale: number): void => {
    for (let k = 0; k < 3; k++) row[size * r + 6 * end + k] += scale * n[k];
  };
  // bulge of psi along the edge: d = -(3/2) f [dw / L + (psi_i + psi_j) / 2]
  const addBulge = (r: number, scale: number): void => {
    for (let end = 0; end < 2; end++) {
      addRise(r, end, (-1.5 * f * scale * (end === 0 ? -1 : 1)) / length);
      addTurn(r, end, -0.75 * f * scale);
    }
  };
  for (let g = 0; g < 3; g++) {
    const xi = beamAt[g];
    const s = section(xi);
    row.fill(0);
    for (let end = 0; end < 2; end++) {
      const sign = (end === 0 ? -1 : 1) / length;
      for (let k = 0; k < 3; k++) {
        row[6 * end + k] = sign * t[k];
        row[3 * size + 6 * end + 3 + k] = sign * t[k];
      }
      addRise(0, end, sign * slope);
      addPlateTurn(0, end, sign * ends[end].glue);
      addTurn(0, end, sign * ends[end].centroid);
      addTurn(1, end, sign);
    }
    addBulge(1, (4 * (1 - 2 * xi)) / length);
    addBulge(2, (-2 / 3) * phi);
    const w = beamWeight[g] * length;
    const stiff = [s.EA, s.EI, s.GAs, s.GJ] as const;
    const lossy = [s.lossE, s.lossE, s.lossG, s.lossG] as const;
    for (let r = 0; r < 4; r++) {
      gatherRow(out.stiffness, row, r, w * stiff[r]);
      gatherRow(out.loss, row, r, w * stiff[r] * lossy[r]);
    }
  }
  for (let g = 0; g < 3; g++) {
    const xi = beamAt[g];
    const s = section(xi);
    row.fill(0);
    const share = [1 - xi, xi] as const;
    const bubble = xi * (1 - xi);
    // w = linear + xi (1 - xi) [a + c (1 - 2 xi)], a = L (psi_j - psi_i)/2, c = -f (dw + L (psi_i + psi_j)/2)
    const c = -f * bubble * (1 - 2 * xi);
    for (let end = 0; end < 2; end++) {
      const sign = end === 0 ? -1 : 1;
      const z = share[end];
      for (let k = 0; k < 3; k++) {
        row[6 * end + k] = z * t[k];
        row[size + 6 * end + k] = z * b[k];
        row[size + 6 * end + 3 + k] = -z * (s.glue + s.centroid) * t[k];
        row[4 * size + 6 * end + 3 + k] = z * t[k];
      }
      addPlateTurn(0, end, z * ends[end].glue);
      addTurn(0, end, z * ends[end].centroid);
      addRise(2, end, z + sign * c);
      addTurn(2, end, ((sign * bubble + c) * length) / 2);
      addTurn(3, end, z);
    }
    const w = beamWeight[g] * length;
    for (let r = 0; r < 3; r++) gatherRow(out.mass, row, r, w * s.massPerLength);
    gatherRow(out.mass, row, 3, w * s.inertiaBending);
    gatherRow(out.mass, row, 4, w * s.inertiaTwist);
  }
}

/** a += scale x (row r)' (row r). */
export function gatherRow(a: Float64Array, row: Float64Array, r: number, scale: number): void {
  if (scale === 0) return;
  for (let i = 0; i < size; i++) {
    const f = scale * row[size * r + i];
    if (f === 0) continue;
    for (let j = 0; j < size; j++) a[size * i + j] += f * row[size * r + j];
  }
}
