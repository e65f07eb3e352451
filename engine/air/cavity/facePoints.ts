import { triangleRule } from "#engine/numerics";
import type { CavityWall } from "./cavityRecords.ts";
import { lineShapes, triangleShapes } from "./quadratic.ts";

/** Points that integrate over curved faces of the wall: the integral of f n dS is the sum of f x area vector. */
export interface FacePoints {
  readonly count: number;
  /** x, y, z by point. */
  readonly at: Float64Array;
  /** Outward normal times the area the point stands for, x, y, z by point. */
  readonly area: Float64Array;
  /** Face of each point. */
  readonly face: Uint32Array;
  /** 9 by point: values of the face's functions (three unused on triangles). */
  readonly shape: Float64Array;
}

const TRIANGLE = triangleRule(4);
const LINE = {
  points: [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)],
  weights: [5 / 18, 8 / 18, 5 / 18],
};

/**
 * Points on the faces, each face cut into pieces(face)2 equal pieces first (0: face left out). On one piece exact for
 * polynomials of degree 4 (triangles, in barycentric coordinates) and 5 along either side (squares).
 */
export function facePoints(wall: CavityWall, pieces: (face: number) => number): FacePoints {
  const cuts = wall.faces.map((_, f) => pieces(f));
  const count = wall.faces.reduce(
    (sum, { nodes }, f) => sum + cuts[f] ** 2 * (nodes.length === 6 ? TRIANGLE.weights.length : 9),
    0,
  );
  const out = {
    count,
    at: new Float64Array(3 * count),
    area: new Float64Array(3 * count),
    face: new Uint32Array(count),
    shape: new Float64Array(9 * count),
  };
  const value = new Float64Array(9);
  const du = new Float64Array(9);
  const dv = new Float64Array(9);
  let g = 0;
  for (let f = 0; f < wall.faces.length; f++) {
    const visit = (weight: number) => {
      setPoint(wall, f, value, du, dv, weight, out, g++);
    };
    if (wall.faces[f].nodes.length === 6) onTriangle(cuts[f], value, du, dv, visit);
    else onSquare(cuts[f], value, du, dv, visit);
  }
  return out;
}

/** Point g: place, area vector and functions from the values and derivatives of the face's functions there. */
function setPoint(
  wall: CavityWall,
  face: number,
  value: Float64Array,
  du: Float64Array,
  dv: Float64Array,
  weight: number,
  out: FacePoints,
  g: number,
): void {
  const { nodes } = wall.faces[face];
  let xu = 0;
  let yu = 0;
  let zu = 0;
  let xv = 0;
  let yv = 0;
  let zv = 0;
  for (let i = 0; i < nodes.length; i++) {
    const p = 3 * nodes[i];
    const x = wall.nodes[p];
    const y = wall.nodes[p + 1];
    const z = wall.nodes[p + 2];
    out.at[3 * g] += x * value[i];
    out.at[3 * g + 1] += y * value[i];
    out.at[3 * g + 2] += z * value[i];
    xu += x * du[i];
    yu += y * du[i];
    zu += z * du[i];
    xv += x * dv[i];
    yv += y * dv[i];
    zv += z * dv[i];
    out.shape[9 * g + i] = value[i];
  }
  out.area[3 * g] = weight * (yu * zv - zu * yv);
  out.area[3 * g + 1] = weight * (zu * xv - xu * zv);
  out.area[3 * g + 2] = weight * (xu * yv - yu * xv);
  out.face[g] = face;
}

function onTriangle(
  cuts: number,
  value: Float64Array,
  du: Float64Array,
  dv: Float64Array,
  visit: (weight: number) => void,
): void {
  for (let i = 0; i < cuts; i++) {
    for (let j = 0; j < cuts - i; j++) {
      for (const turned of j < cuts - i - 1 ? [false, true] : [false]) {
        for (let g = 0; g < TRIANGLE.weights.length; g++) {
          const [a, b] = [TRIANGLE.points[3 * g + 1], TRIANGLE.points[3 * g + 2]];
          const u = (turned ? i + 1 - a : i + a) / cuts;
          const v = (turned ? j + 1 - b : j + b) / cuts;
          triangleShapes(u, v, value, du, dv);
          visit(TRIANGLE.weights[g] / (2 * cuts * cuts));
        }
      }
    }
  }
}

function onSquare(
  cuts: number,
  value: Float64Array,
  du: Float64Array,
  dv: Float64Array,
  visit: (weight: number) => void,
): void {
  const [l, dl, m, dm] = [new Float64Array(3), new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  for (let i = 0; i < 3 * cuts; i++) {
    lineShapes((Math.floor(i / 3) + LINE.points[i % 3]) / cuts, l, dl);
    for (let j = 0; j < 3 * cuts; j++) {
      lineShapes((Math.floor(j / 3) + LINE.points[j % 3]) / cuts, m, dm);
      for (let b = 0; b < 3; b++) {
        for (let a = 0; a < 3; a++) {
          value[3 * b + a] = l[a] * m[b];
          du[3 * b + a] = dl[a] * m[b];
          dv[3 * b + a] = l[a] * dm[b];
        }
      }
      visit((LINE.weights[i % 3] * LINE.weights[j % 3]) / (cuts * cuts));
    }
  }
}
