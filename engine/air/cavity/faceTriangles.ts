import type { CavityWall } from "./cavityRecords.ts";
import { lineShapes, triangleShapes } from "./quadratic.ts";

/** One face of the wall as small flat triangles with their corners on the curved face. */
export interface FaceTriangles {
  readonly count: number;
  /** 9 by triangle: three corners x, y, z, anticlockwise seen from outside. */
  readonly corners: Float64Array;
  /** 9 by triangle: the face's functions at its middle (three unused on a triangular face). */
  readonly shape: Float64Array;
}

/** Cuts the face's sides into `cuts` pieces: cuts2 triangles of a triangular face, 2 cuts2 of a 3 x 3 one. */
export function faceTriangles(wall: CavityWall, face: number, cuts: number): FaceTriangles {
  const { nodes } = wall.faces[face];
  const square = nodes.length === 9;
  const corners: number[] = [];
  const shape: number[] = [];
  const value = new Float64Array(9);
  const spare = [new Float64Array(9), new Float64Array(9)] as const;
  const lines = [0, 1, 2].map(() => new Float64Array(3));
  const evaluate = (u: number, v: number) => {
    if (!square) {
      triangleShapes(u, v, value, ...spare);
      return;
    }
    lineShapes(u, lines[0], lines[2]);
    lineShapes(v, lines[1], lines[2]);
    for (let k = 0; k < 9; k++) value[k] = lines[0][k % 3] * lines[1][Math.floor(k / 3)];
  };
  const add = (places: readonly (readonly [number, number])[]) => {
    for (const [i, j] of places) {
      evaluate(i / cuts, j / cuts);
      for (let d = 0; d < 3; d++) {
        let x = 0;
        for (let k = 0; k < nodes.length; k++) x += value[k] * wall.nodes[3 * nodes[k] + d];
        corners.push(x);
      }
    }
    const middle = (d: 0 | 1) => (places[0][d] + places[1][d] + places[2][d]) / (3 * cuts);
    evaluate(middle(0), middle(1));
    for (let k = 0; k < 9; k++) shape.push(k < nodes.length ? value[k] : 0);
  };
  for (let i = 0; i < cuts; i++) {
    for (let j = 0; j < (square ? cuts : cuts - i); j++) {
      add([
        [i, j],
        [i + 1, j],
        [i, j + 1],
      ]);
      if (square || j < cuts - i - 1)
        add([
          [i + 1, j],
          [i + 1, j + 1],
          [i, j + 1],
        ]);
    }
  }
  return {
    count: corners.length / 9,
    corners: Float64Array.from(corners),
    shape: Float64Array.from(shape),
  };
}
