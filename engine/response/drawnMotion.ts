import { timesTransposed } from "./coupledStructure.ts";
import type { ModeCoordinates } from "./structureMotion.ts";
import type { StructureModes } from "./structureParts.ts";
import { nodeNormals, normalMotion } from "./topMotions.ts";

/** Outward motion at the nodes of the top's (0) or the back's (1) own mesh, of the first modes: drawn x nodes. */
export function drawnMotion(
  body: StructureModes,
  x: ModeCoordinates,
  part: 0 | 1,
  drawn: number,
): Float64Array {
  const node = part === 0 ? body.mesh.topNode : body.mesh.backNode;
  const { normal } = nodeNormals(body, part, node);
  const p = body.rigidCount + body.count;
  const moved = normalMotion(body, node, normal, 0, p);
  const count = Math.min(drawn, x.count);
  // nodes x P, so that both factors run along P.
  const byNode = new Float64Array(moved.length);
  for (let i = 0; i < p; i++)
    for (let k = 0; k < node.length; k++) byNode[k * p + i] = moved[i * node.length + k];
  const from = x.rigidCount * p;
  return timesTransposed(x.structure.subarray(from, from + count * p), byNode, count, node.length, p);
}

/** Displacement of every node of the surface in one mode (index), 3 by node: for pictures of the whole body. */
export function wholeShape(body: StructureModes, structure: Float64Array): Float64Array {
  const size = body.surface.nodes.length;
  const out = new Float64Array(size);
  structure.forEach((f, i) => {
    for (let k = 0; k < size; k++) out[k] += f * body.shapes[i * size + k];
  });
  return out;
}
