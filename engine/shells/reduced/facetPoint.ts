import type { ShellMesh } from "../shellMesh.ts";

/** A point of a triangle, and its six motions (ux uy uz rx ry rz) as sums of its corners' motions (6 by node of the mesh). */
export interface FacetPoint {
  readonly place: readonly [number, number, number];
  readonly motions: readonly (readonly (readonly [motion: number, weight: number])[])[];
}

/** Where a point lies in the plan of a mesh. */
export interface FacetPlace {
  readonly triangle: number;
  readonly barycentric: readonly [number, number, number];
}

/** Weights below this are rounding: the point lies on an edge or a corner. */
const negligible = 1e-9;

/**
 * The point moves with its triangle as a thin plate does: turns and motion in the plane linear, motion along the normal n cubic along
 * the edges, with the corners' turns as slopes: to the linear share comes the sum over edges i j of
 * L_i L_j (r_i - r_j) . (d x n) / 2, d from i to j, L the linear weights.
 */
export function facetPoint(mesh: ShellMesh, { triangle, barycentric: own }: FacetPlace): FacetPoint {
  const nodes = [0, 1, 2].map((c) => mesh.triangles[3 * triangle + c]);
  const weights = own.map((w) => (Math.abs(w) < negligible ? 0 : w));
  const corner = (c: number): Float64Array => mesh.nodes.subarray(3 * nodes[c], 3 * nodes[c] + 3);
  const between = (i: number, j: number): number[] => [0, 1, 2].map((k) => corner(j)[k] - corner(i)[k]);
  const [a, b] = [between(0, 1), between(0, 2)];
  const square = cross(a, b);
  const size = Math.hypot(square[0], square[1], square[2]);
  const normal = square.map((v) => v / size);
  const motions: [number, number][][] = [0, 1, 2, 3, 4, 5].map((q) =>
    nodes.flatMap((node, c): [number, number][] => (weights[c] === 0 ? [] : [[6 * node + q, weights[c]]])),
  );
  for (const [i, j] of [
    [0, 1],
    [1, 2],
    [2, 0],
  ]) {
    const bubble = (weights[i] * weights[j]) / 2;
    if (bubble === 0) continue;
    const arm = cross(between(i, j), normal);
    for (let q = 0; q < 3; q++) {
      for (let k = 0; k < 3; k++) {
        const w = bubble * normal[q] * arm[k];
        if (w !== 0) motions[q].push([6 * nodes[i] + 3 + k, w], [6 * nodes[j] + 3 + k, -w]);
      }
    }
  }
  const place = [0, 1, 2].map((k) => weights.reduce((sum, w, c) => sum + w * corner(c)[k], 0));
  return { place: [place[0], place[1], place[2]], motions };
}

function cross(a: readonly number[], b: readonly number[]): number[] {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
