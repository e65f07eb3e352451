import type { BodySystem } from "./bodyModel.ts";

/** The part that a node of the layout belongs to, in words; on a plate or side with its place in plan. */
export function partOfNode(
  { spec, mesh, layout }: Pick<BodySystem, "spec" | "mesh" | "layout">,
  node: number,
): string {
  if (layout.neckNode.includes(node)) return "the neck";
  if (layout.tongueNode.includes(node)) return "the clear end of the fingerboard";
  const rod = layout.rodNode.findIndex((line) => line.includes(node));
  if (rod >= 0) return spec.rods[rod].name;
  const block = layout.blockNode.indexOf(node);
  if (block >= 0) return `the ${spec.blocks[block].name}`;
  const { triangles, part, nodes } = mesh.surface;
  const name = ["top", "back", "side"][part[Math.floor(triangles.indexOf(node) / 3)]];
  return `the ${name} at (${nodes[3 * node].toFixed(3)}, ${nodes[3 * node + 1].toFixed(3)}) m`;
}
