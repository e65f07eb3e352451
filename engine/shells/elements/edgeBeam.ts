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
  const sections = [section(beamAt[0]), section(beamAt[1]), section(beamAt[2])] as const;
  for (let g = 0; g < 3; g++) {
    const xi = beamAt[g];
    const s = sections[g];
    row.fill(0);
    for (let end = 0; end < 2; end++) {
      const sign = (end === 0 ? -1 : 1) / length;
      addVector(row, 6 * end, t, sign);
      addVector(row, 3 * size + 6 * end + 3, t, sign);
      addVector(row, 6 * end, n, sign * slope);
      addVector(row, 6 * end + 3, b, sign * ends[end].glue);
      addTurn(row, 0, end, b, sign * ends[end].centroid);
      addTurn(row, 1, end, b, sign);
      // bulge of psi along the edge: d = -(3/2) f [dw / L + (psi_i + psi_j) / 2]
      const bulge = -1.5 * f;
      const curved = (4 * (1 - 2 * xi)) / length;
      addVector(row, size + 6 * end, n, bulge * curved * sign);
      addTurn(row, 1, end, b, (bulge * curved) / 2);
      addVector(row, 2 * size + 6 * end, n, bulge * (-2 / 3) * phi * sign);
      addTurn(row, 2, end, b, (bulge * (-2 / 3) * phi) / 2);
    }
    const w = beamWeight[g] * length;
    gatherRow(out.stiffness, row, 0, w * s.EA);
    gatherRow(out.stiffness, row, 1, w * s.EI);
    gatherRow(out.stiffness, row, 2, w * s.GAs);
    gatherRow(out.stiffness, row, 3, w * s.GJ);
    gatherRow(out.loss, row, 0, w * s.EA * s.lossE);
    gatherRow(out.loss, row, 1, w * s.EI * s.lossE);
    gatherRow(out.loss, row, 2, w * s.GAs * s.lossG);
    gatherRow(out.loss, row, 3, w * s.GJ * s.lossG);
  }
  for (let g = 0; g < 3; g++) {
    const xi = beamAt[g];
    const s = sections[g];
    row.fill(0);
    const bubble = xi * (1 - xi);
    // w = linear + xi (1 - xi) [a + c (1 - 2 xi)], a = L (psi_j - psi_i)/2, c = -f (dw + L (psi_i + psi_j)/2)
    const c = -f * bubble * (1 - 2 * xi);
    for (let end = 0; end < 2; end++) {
      const sign = end === 0 ? -1 : 1;
      const z = end === 0 ? 1 - xi : xi;
      addVector(row, 6 * end, t, z);
      addVector(row, size + 6 * end, b, z);
      addVector(row, size + 6 * end + 3, t, -z * (s.glue + s.centroid));
      addVector(row, 4 * size + 6 * end + 3, t, z);
      addVector(row, 6 * end + 3, b, z * ends[end].glue);
      addTurn(row, 0, end, b, z * ends[end].centroid);
      addVector(row, 2 * size + 6 * end, n, z + sign * c);
      addTurn(row, 2, end, b, ((sign * bubble + c) * length) / 2);
      addTurn(row, 3, end, b, z);
    }
    const w = beamWeight[g] * length;
    for (let r = 0; r < 3; r++) gatherRow(out.mass, row, r, w * s.massPerLength);
    gatherRow(out.mass, row, 3, w * s.inertiaBending);
    gatherRow(out.mass, row, 4, w * s.inertiaTwist);
  }
}

/** row[at ..] += scale x v. */
function addVector(row: Float64Array, at: number, v: readonly number[], scale: number): void {
  row[at] += scale * v[0];
  row[at + 1] += scale * v[1];
  row[at + 2] += scale * v[2];
}

/** Adds the turn of the rib's own cross-section at an end to row r: that of the plate about b and chi. */
function addTurn(row: Float64Array, r: number, end: number, b: readonly number[], scale: number): void {
  addVector(row, size * r + 6 * end + 3, b, scale);
  row[size * r + 12 + end] += scale;
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
