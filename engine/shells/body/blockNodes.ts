import { pointInPolygon } from "#engine/geometry";
import { done, failed, type Outcome } from "#engine/numerics";
import type { BodyMesh } from "./bodyModel.ts";
import type { BlockSpec, BodyShellSpec, Triple } from "./bodySpec.ts";
import { nominalThickness } from "./plateMesh.ts";
import { sideThickness } from "./plateSeat.ts";

/** Rigid regions: blocks that share nodes or overlap in space are one. */
export interface RigidRegions {
  /** Region of each shell node, -1 where it is free. */
  readonly ofNode: Int32Array;
  /** Region of each block of the spec. */
  readonly ofBlock: Int32Array;
  readonly count: number;
}

/** How far a point lies outside a box along each axis, signed; 0 inside. */
export function boxExcess(box: BlockSpec, p: ArrayLike<number>): readonly [number, number, number] {
  const along = (k: 0 | 1 | 2): number => {
    const d = p[k] - box.centre[k];
    const half = box.size[k] / 2;
    return d > half ? d - half : d < -half ? d + half : 0;
  };
  return [along(0), along(1), along(2)];
}

/**
 * Which shell nodes move with which block. A block takes the nodes in its box and those whose surface touches it: within a
 * tenth of the box or two plate thicknesses along the surface's normal (boxes are square, plates and sides are not), within a
 * twentieth of the mesh along the surface.
 * Fails: 'block-outside' (its box lies clear of the plan), 'block-touches-nothing', both naming the block.
 */
export function rigidRegions(spec: BodyShellSpec, mesh: BodyMesh): Outcome<RigidRegions> {
  const { nodes } = mesh.surface;
  const count = nodes.length / 3;
  const { normals, length, onSide, onPlate } = nodeSurroundings(mesh);
  const plates = [spec.top, spec.back].map((p) => (p === null ? 0 : nominalThickness(p)));
  const side = spec.sides === null ? 0 : sideThickness(spec.sides);
  const parent = spec.blocks.map((_, b) => b);
  const root = (b: number): number => (parent[b] === b ? b : root(parent[b]));
  const owner = new Int32Array(count).fill(-1);
  const touches = spec.blocks.map(() => false);
  for (const [b, box] of spec.blocks.entries()) {
    if (spec.sides !== null && boxClear(box, spec.sides.outline)) {
      return failed("block-outside", `${box.name} lies outside the body's outline`);
    }
    const reachZ = Math.max(2 * Math.max(...plates), 0.1 * box.size[2]);
    const widest = reachZ + 0.1 * Math.max(...box.size) + 2 * side;
    for (let k = 0; k < count; k++) {
      if (
        Math.abs(nodes[3 * k] - box.centre[0]) > box.size[0] / 2 + widest ||
        Math.abs(nodes[3 * k + 1] - box.centre[1]) > box.size[1] / 2 + widest
      )
        continue;
      const e = boxExcess(box, nodes.subarray(3 * k, 3 * k + 3));
      const slack = 0.05 * length[k];
      const flat =
        onPlate[k] === 1 && Math.abs(e[0]) <= slack && Math.abs(e[1]) <= slack && Math.abs(e[2]) <= reachZ;
      let upright = false;
      if (onSide[k] === 1 && Math.abs(e[2]) <= Math.max(slack, onPlate[k] === 1 ? reachZ : 0)) {
        const size = Math.hypot(normals[3 * k], normals[3 * k + 1]);
        const [nx, ny] = [normals[3 * k] / size, normals[3 * k + 1] / size];
        const out = e[0] * nx + e[1] * ny;
        const along = Math.abs(e[1] * nx - e[0] * ny);
        const reach = Math.max(2 * side, 0.1 * Math.max(box.size[0], box.size[1]));
        upright = along <= slack && Math.abs(out) <= reach;
      }
      if (!flat && !upright) continue;
      touches[b] = true;
      if (owner[k] < 0) owner[k] = b;
      else parent[root(b)] = root(owner[k]);
    }
  }
  spec.blocks.forEach((a, i) => {
    spec.blocks.slice(0, i).forEach((b, j) => {
      const apart = [0, 1, 2].some(
        (q) => Math.abs(a.centre[q] - b.centre[q]) > (a.size[q] + b.size[q]) / 2 + 5e-4,
      );
      if (!apart) parent[root(i)] = root(j);
    });
  });
  const live = new Set(spec.blocks.flatMap((_, b) => (touches[b] ? [root(b)] : [])));
  const loose = spec.blocks.findIndex((_, b) => !live.has(root(b)));
  if (loose >= 0) {
    const { name, centre } = spec.blocks[loose];
    return failed(
      "block-touches-nothing",
      `${name} at ${told(centre)} touches no plate, side or other block`,
    );
  }
  const number = new Map<number, number>();
  const ofBlock = Int32Array.from(spec.blocks, (_, b) => {
    const r = root(b);
    const known = number.get(r) ?? number.size;
    number.set(r, known);
    return known;
  });
  return done({ ofNode: owner.map((b) => (b < 0 ? -1 : ofBlock[b])), ofBlock, count: number.size });
}

/** By shell node: sum of the normals of its side triangles (not unit), shortest edge, and which parts it is on. */
function nodeSurroundings({ surface }: BodyMesh): {
  readonly normals: Float64Array;
  readonly length: Float64Array;
  readonly onSide: Uint8Array;
  readonly onPlate: Uint8Array;
} {
  const { nodes: x, triangles, part } = surface;
  const count = x.length / 3;
  const normals = new Float64Array(3 * count);
  const length = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const onSide = new Uint8Array(count);
  const onPlate = new Uint8Array(count);
  for (let e = 0; e < part.length; e++) {
    const [a, b, c] = [3 * triangles[3 * e], 3 * triangles[3 * e + 1], 3 * triangles[3 * e + 2]];
    const [ux, uy, uz] = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
    const [vx, vy, vz] = [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]];
    const l = Math.sqrt(ux * ux + uy * uy + uz * uz);
    for (let q = 0; q < 3; q++) {
      const k = triangles[3 * e + q];
      if (l < length[k]) length[k] = l;
      if (part[e] !== 2) onPlate[k] = 1;
      else {
        onSide[k] = 1;
        normals[3 * k] += uy * vz - uz * vy;
        normals[3 * k + 1] += uz * vx - ux * vz;
        normals[3 * k + 2] += ux * vy - uy * vx;
      }
    }
  }
  return { normals, length, onSide, onPlate };
}

/** Whether a box's plan lies wholly outside the outline. */
function boxClear(box: BlockSpec, outline: Float64Array): boolean {
  const [x, y] = box.centre;
  const [a, b] = [box.size[0] / 2, box.size[1] / 2];
  const corners = [
    [x, y],
    [x - a, y - b],
    [x + a, y - b],
    [x + a, y + b],
    [x - a, y + b],
  ];
  if (corners.some(([p, q]) => pointInPolygon(outline, p, q))) return false;
  for (let k = 0; k < outline.length; k += 2) {
    if (Math.abs(outline[k] - x) <= a && Math.abs(outline[k + 1] - y) <= b) return false;
  }
  return true;
}

function told(p: Triple): string {
  return `(${p.map((v) => v.toFixed(3)).join(", ")}) m`;
}
