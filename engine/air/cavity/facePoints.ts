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
  let g = 0;
  const tables = new Map<number, ShapeTable>();
  for (let f = 0; f < wall.faces.length; f++) {
    if (cuts[f] === 0) continue;
    const corners = wall.faces[f].nodes.length;
    const key = 16 * cuts[f] + corners;
    let table = tables.get(key);
    if (table === undefined) {
      table = corners === 6 ? triangleTable(cuts[f]) : squareTable(cuts[f]);
      tables.set(key, table);
    }
    for (let i = 0; i < table.weight.length; i++) setPoint(wall, f, table, i, out, g++);
  }
  return out;
}

/** Points of one kind of face: weight; values and derivatives of its functions, 9 by point. */
interface ShapeTable {
  readonly weight: Float64Array;
  readonly value: Float64Array;
  readonly du: Float64Array;
  readonly dv: Float64Array;
}

function shapeTable(count: number): ShapeTable {
  const nine = () => new Float64Array(9 * count);
  return { weight: new Float64Array(count), value: nine(), du: nine(), dv: nine() };
}

/** Point g: place, area vector and functions from those of the table's point i. */
function setPoint(
  { faces, nodes: places }: CavityWall,
  face: number,
  { weight, value, du, dv }: ShapeTable,
  i: number,
  out: FacePoints,
  g: number,
): void {
  const { nodes } = faces[face];
  const { at, area, shape } = out;
  let x = 0;
  let y = 0;
  let z = 0;
  let xu = 0;
  let yu = 0;
  let zu = 0;
  let xv = 0;
  let yv = 0;
  let zv = 0;
  for (let k = 0; k < nodes.length; k++) {
    const p = 3 * nodes[k];
    const own = value[9 * i + k];
    const u = du[9 * i + k];
    const v = dv[9 * i + k];
    x += places[p] * own;
    y += places[p + 1] * own;
    z += places[p + 2] * own;
    xu += places[p] * u;
    yu += places[p + 1] * u;
    zu += places[p + 2] * u;
    xv += places[p] * v;
    yv += places[p + 1] * v;
    zv += places[p + 2] * v;
    shape[9 * g + k] = own;
  }
  at[3 * g] = x;
  at[3 * g + 1] = y;
  at[3 * g + 2] = z;
  area[3 * g] = weight[i] * (yu * zv - zu * yv);
  area[3 * g + 1] = weight[i] * (zu * xv - xu * zv);
  area[3 * g + 2] = weight[i] * (xu * yv - yu * xv);
  out.face[g] = face;
}

function triangleTable(cuts: number): ShapeTable {
  const own = TRIANGLE.weights.length;
  const table = shapeTable(cuts * cuts * own);
  let at = 0;
  for (let i = 0; i < cuts; i++) {
    for (let j = 0; j < cuts - i; j++) {
      for (let turned = 0; turned < (j < cuts - i - 1 ? 2 : 1); turned++) {
        for (let g = 0; g < own; g++) {
          const a = TRIANGLE.points[3 * g + 1];
          const b = TRIANGLE.points[3 * g + 2];
          const u = (turned === 1 ? i + 1 - a : i + a) / cuts;
          const v = (turned === 1 ? j + 1 - b : j + b) / cuts;
          const [from, to] = [9 * at, 9 * at + 6];
          triangleShapes(
            u,
            v,
            table.value.subarray(from, to),
            table.du.subarray(from, to),
            table.dv.subarray(from, to),
          );
          table.weight[at++] = TRIANGLE.weights[g] / (2 * cuts * cuts);
        }
      }
    }
  }
  return table;
}

function squareTable(cuts: number): ShapeTable {
  const table = shapeTable(9 * cuts * cuts);
  const { value, du, dv } = table;
  const [l, dl, m, dm] = [new Float64Array(3), new Float64Array(3), new Float64Array(3), new Float64Array(3)];
  let at = 0;
  for (let i = 0; i < 3 * cuts; i++) {
    lineShapes((Math.floor(i / 3) + LINE.points[i % 3]) / cuts, l, dl);
    for (let j = 0; j < 3 * cuts; j++) {
      lineShapes((Math.floor(j / 3) + LINE.points[j % 3]) / cuts, m, dm);
      for (let k = 0; k < 9; k++) {
        const a = k % 3;
        const b = (k - a) / 3;
        value[9 * at + k] = l[a] * m[b];
        du[9 * at + k] = dl[a] * m[b];
        dv[9 * at + k] = l[a] * dm[b];
      }
      table.weight[at++] = (LINE.weights[i % 3] * LINE.weights[j % 3]) / (cuts * cuts);
    }
  }
  return table;
}
