import type { ShellMesh } from "../shellMesh.ts";

/**
 * Some triangles of a mesh (three of its nodes each) with their own numbering of the nodes they use; lines and ribs are left out.
 * nodes: the mesh's node of each of theirs.
 */
export function cutOut(
  mesh: ShellMesh,
  triangles: Uint32Array,
): { readonly part: ShellMesh; readonly nodes: readonly number[] } {
  const local = new Int32Array(mesh.nodes.length / 3).fill(-1);
  const nodes: number[] = [];
  const places: number[] = [];
  const plan: number[] = [];
  const own = triangles.map((node) => {
    if (local[node] < 0) {
      local[node] = nodes.push(node) - 1;
      places.push(...mesh.nodes.subarray(3 * node, 3 * node + 3));
      plan.push(mesh.plan.nodes[2 * node], mesh.plan.nodes[2 * node + 1]);
    }
    return local[node];
  });
  return {
    nodes,
    part: {
      plan: { ...mesh.plan, nodes: Float64Array.from(plan), triangles: own, lines: [], boundary: [] },
      nodes: Float64Array.from(places),
      triangles: own,
      boundary: [],
      ribs: [],
    },
  };
}
