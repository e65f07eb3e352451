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
  const at: number[] = [];
  const area: number[] = [];
  const faces: number[] = [];
  const shapes: number[] = [];
  const [value, du, dv] = [new Float64Array(9), new Float64Array(9), new Float64Array(9)];
  const add = (face: number, weight: number) => {
    const { nodes } = wall.faces[face];
    const [x, xu, xv] = [
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
    ];
    for (let i = 0; i < nodes.length; i++) {
      for (let d = 0; d < 3; d++) {
        const p = wall.nodes[3 * nodes[i] + d];
        x[d] += p * value[i];
        xu[d] += p * du[i];
        xv[d] += p * dv[i];
      }
    }
    at.push(x[0], x[1], x[2]);
    area.push(
      weight * (xu[1] * xv[2] - xu[2] * xv[1]),
      weight * (xu[2] * xv[0] - xu[0] * xv[2]),
      weight * (xu[0] * xv[1] - xu[1] * xv[0]),
    );
    faces.push(face);
    for (let i = 0; i < 9; i++) shapes.push(i < nodes.length ? value[i] : 0);
  };
  for (let f = 0; f < wall.faces.length; f++) {
    const cuts = pieces(f);
    if (wall.faces[f].nodes.length === 6)
      onTriangle(cuts, value, du, dv, (w) => {
        add(f, w);
      });
    else
      onSquare(cuts, value, du, dv, (w) => {
        add(f, w);
      });
  }
  return {
    count: faces.length,
    at: Float64Array.from(at),
    area: Float64Array.from(area),
    face: Uint32Array.from(faces),
    shape: Float64Array.from(shapes),
  };
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
