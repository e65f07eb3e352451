/**
 * Eccentric Timoshenko beam of varying section along a mesh edge, tied to the plate's nodes with rigid offsets.
 *
 *    plate   i ----------- j      t along the edge, n the plate's outward normal, b = n x t;
 *               offset |          the section's centroid lies at offset * n, its motion is u + r x (offset n):
 *    rib       o - - - - - o      along t: u.t + offset r.b    along b: u.b - offset r.t    along n: u.n
 *
 * Strains: axial (mean over the element), bending in the plane of t and n (curvature linear), its shear (constant) and
 * twist. Deflection and rotation along the edge are those of the discrete-shear triangle's side with the beam's own
 *   phi = 12 EI / (GAs L2).
 * Bending about the plate's normal is released: it neither strains the beam nor loads the drilling rotation (the plate
 * is far stiffer in its own plane; loading the drilling freedom stiffens a ribbed plate by 3 to 4 %).
 */
export interface BeamSection {
  /** N */ readonly EA: number;
  /** About its own centroid, bending along the normal; N m2. */ readonly EI: number;
  /** Shear stiffness, N; 0 means rigid in shear. */ readonly GAs: number;
  /** N m2 */ readonly GJ: number;
  /** Height of the centroid on the plate's normal, m. */ readonly offset: number;
  /** kg/m */ readonly massPerLength: number;
  /** Rotary inertia per length, kg m: about b (bending) and about t (twist), through the centroid. */
  readonly inertiaBending: number;
  readonly inertiaTwist: number;
  /** Imaginary parts of EA, EI (loss of E) and GAs, GJ (loss of G): loss factors. */
  readonly lossE: number;
  readonly lossG: number;
}

export interface EdgeBeam {
  /** 12 x 12 row by row over ux uy uz rx ry rz of i then j. */ readonly stiffness: Float64Array;
  readonly loss: Float64Array;
  readonly mass: Float64Array;
  readonly scratch: Float64Array;
}

export function emptyEdgeBeam(): EdgeBeam {
  return {
    stiffness: new Float64Array(144),
    loss: new Float64Array(144),
    mass: new Float64Array(144),
    scratch: new Float64Array(72),
  };
}

const at = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const weight = [5 / 18, 8 / 18, 5 / 18] as const;

/**
 * Fills `out` (in place). `tangent`, `normal`: unit vectors; `section(xi)`: at the fraction xi of the edge from i;
 * `active`: the part of the edge whose stiffness counts (the mass always counts in full).
 */
export function edgeBeam(
  length: number,
  tangent: readonly number[],
  normal: readonly number[],
  section: (xi: number) => BeamSection,
  active: readonly [from: number, to: number],
  out: EdgeBeam,
): void {
  const t = tangent;
  const n = normal;
  const b = [n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]] as const;
  out.stiffness.fill(0);
  out.loss.fill(0);
  out.mass.fill(0);
  const ends = [section(0).offset, section(1).offset] as const;
  // a rib that grows has an inclined axis: its strain takes the slope times the rise of the deflection
  const slope = (ends[1] - ends[0]) / length;
  const middle = section(0.5);
  const phi = middle.GAs > 0 ? (12 * middle.EI) / (middle.GAs * length * length) : 0;
  const f = 1 / (1 + phi);
  const row = out.scratch;
  // bulge of the rotation: d = -(3/2) f [dw / L + (beta_i + beta_j) / 2]
  const addBulge = (r: number, scale: number): void => {
    for (let k = 0; k < 3; k++) {
      row[12 * r + k] += 1.5 * f * scale * (n[k] / length);
      row[12 * r + 6 + k] -= 1.5 * f * scale * (n[k] / length);
      row[12 * r + 3 + k] -= 0.75 * f * scale * b[k];
      row[12 * r + 9 + k] -= 0.75 * f * scale * b[k];
    }
  };
  const span = active[1] - active[0];
  for (let g = 0; g < 3 && span > 0; g++) {
    const xi = active[0] + span * at[g];
    const s = section(xi);
    row.fill(0, 0, 48);
    for (let k = 0; k < 3; k++) {
      row[k] = -(t[k] + slope * n[k]) / length;
      row[6 + k] = (t[k] + slope * n[k]) / length;
      row[3 + k] = (-ends[0] * b[k]) / length;
      row[9 + k] = (ends[1] * b[k]) / length;
      row[12 + 3 + k] = -b[k] / length;
      row[12 + 9 + k] = b[k] / length;
      row[36 + 3 + k] = -t[k] / length;
      row[36 + 9 + k] = t[k] / length;
    }
    addBulge(1, (4 * (1 - 2 * xi)) / length);
    addBulge(2, (-2 / 3) * phi);
    const w = weight[g] * span * length;
    const stiff = [s.EA, s.EI, s.GAs, s.GJ] as const;
    const lossy = [s.lossE, s.lossE, s.lossG, s.lossG] as const;
    for (let r = 0; r < 4; r++) {
      gather(out.stiffness, row, 12 * r, w * stiff[r]);
      gather(out.loss, row, 12 * r, w * stiff[r] * lossy[r]);
    }
  }
  for (let g = 0; g < 3; g++) {
    const xi = at[g];
    const s = section(xi);
    const offset = s.offset;
    row.fill(0);
    const share = [1 - xi, xi] as const;
    const bubble = xi * (1 - xi);
    for (let e = 0; e < 2; e++) {
      const o = 6 * e;
      const sign = e === 0 ? -1 : 1;
      const z = share[e];
      for (let k = 0; k < 3; k++) {
        row[o + k] = z * t[k];
        row[o + 3 + k] = z * ends[e] * b[k];
        row[12 + o + k] = z * b[k];
        row[12 + o + 3 + k] = -z * offset * t[k];
        // w = linear + xi (1 - xi) [a + c (1 - 2 xi)], as in the triangle's mass
        const c = -f * bubble * (1 - 2 * xi);
        row[24 + o + k] = (z + sign * c) * n[k];
        row[24 + o + 3 + k] = ((sign * bubble + c) * length * b[k]) / 2;
        row[36 + o + 3 + k] = z * b[k];
        row[48 + o + 3 + k] = z * t[k];
      }
    }
    const w = weight[g] * length;
    for (let r = 0; r < 3; r++) gather(out.mass, row, 12 * r, w * s.massPerLength);
    gather(out.mass, row, 36, w * s.inertiaBending);
    gather(out.mass, row, 48, w * s.inertiaTwist);
  }
}

function gather(a: Float64Array, row: Float64Array, from: number, scale: number): void {
  if (scale === 0) return;
  for (let i = 0; i < 12; i++) {
    const f = scale * row[from + i];
    if (f === 0) continue;
    for (let j = 0; j < 12; j++) a[12 * i + j] += f * row[from + j];
  }
}
