import type { MeshQuality, PlanMesh } from "./planMesh.ts";

/** Twice the signed area of a triangle of the mesh, m2; positive if it runs anticlockwise. */
export function twiceArea(mesh: PlanMesh, triangle: number): number {
  const [a, b, c] = mesh.triangles.subarray(3 * triangle, 3 * triangle + 3) as unknown as [
    number,
    number,
    number,
  ];
  const n = mesh.nodes;
  return (
    (n[2 * b] - n[2 * a]) * (n[2 * c + 1] - n[2 * a + 1]) -
    (n[2 * c] - n[2 * a]) * (n[2 * b + 1] - n[2 * a + 1])
  );
}

/** Extreme angles (rad), area (m2) and counts of a mesh. */
export function meshQuality(mesh: PlanMesh): MeshQuality {
  const { nodes, triangles } = mesh;
  let minAngle = Math.PI;
  let maxAngle = 0;
  let area = 0;
  for (let f = 0; f < triangles.length / 3; f++) {
    area += twiceArea(mesh, f) / 2;
    for (let k = 0; k < 3; k++) {
      const [p, q, r] = [0, 1, 2].map((m) => triangles[3 * f + ((k + m) % 3)]) as [number, number, number];
      const ux = nodes[2 * q] - nodes[2 * p];
      const uy = nodes[2 * q + 1] - nodes[2 * p + 1];
      const vx = nodes[2 * r] - nodes[2 * p];
      const vy = nodes[2 * r + 1] - nodes[2 * p + 1];
      const angle = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
      minAngle = Math.min(minAngle, angle);
      maxAngle = Math.max(maxAngle, angle);
    }
  }
  return { minAngle, maxAngle, area, nodes: nodes.length / 2, triangles: triangles.length / 3 };
}

/** A third of the area of the triangles at each node, m2; the sum is the area of the mesh. */
export function nodeAreas(mesh: PlanMesh): Float64Array {
  const out = new Float64Array(mesh.nodes.length / 2);
  for (let f = 0; f < mesh.triangles.length / 3; f++) {
    const third = twiceArea(mesh, f) / 6;
    for (let k = 0; k < 3; k++) out[mesh.triangles[3 * f + k]] += third;
  }
  return out;
}
