import type { RimStrip, StructureModes } from "./structureParts.ts";
import { thirdAreas } from "./thirdAreas.ts";
import { timesTransposed } from "./timesTransposed.ts";

/** How the top moves along its outward normal by the P coordinates of the structure. */
export interface TopMotions {
  readonly motions: number;
  /** P x nodes of the top's mesh. */
  readonly lift: Float64Array;
  /** 3 x P: volume swept outward by each third of the length, [upper, middle, lower]. */
  readonly flow: Float64Array;
  /** 3 x P x P: integral of the product of two motions over each third inside the lining, m2; empty: not asked for. */
  readonly product: Float64Array;
}

/** Outward motion at the nodes of the back's mesh by the P coordinates, P x nodes; empty without a back. */
export function backLift(body: StructureModes): Float64Array {
  const { backNode } = body.mesh;
  const { normal } = nodeNormals(body, 1, backNode);
  return normalMotion(body, backNode, normal);
}

/** By thirds of the top's length along the centreline, hole excluded; `product` leaves out the strip over side and lining. */
export function topMotions(body: StructureModes, rim: RimStrip | null): TopMotions {
  const { mesh, rigidCount, count } = body;
  const p = rigidCount + count;
  if (!mesh.top)
    return {
      motions: p,
      lift: new Float64Array(0),
      flow: new Float64Array(3 * p),
      product: new Float64Array(3 * p * p),
    };
  const { normal, area } = nodeNormals(body, 0, mesh.topNode);
  const lift = normalMotion(body, mesh.topNode, normal);
  const { whole, inside } = thirdAreas({ nodeArea: area, mesh: mesh.top }, rim);
  const nodes = area.length;
  const flow = timesTransposed(whole, lift, 3, p, nodes);
  const product = new Float64Array(3 * p * p);
  for (let third = 0; third < 3; third++) {
    const weighted = weightedLift(lift, inside.subarray(third * nodes, (third + 1) * nodes), p);
    product.set(timesTransposed(weighted, weighted, p, p, weighted.length / p), third * p * p);
  }
  return { motions: p, lift, flow, product };
}

/** By motion: root of the area times the lift, of the nodes that have an area. */
function weightedLift(lift: Float64Array, area: Float64Array, p: number): Float64Array {
  const nodes = area.length;
  const here = new Int32Array(nodes);
  const root = new Float64Array(nodes);
  let count = 0;
  for (let k = 0; k < nodes; k++) {
    if (!(area[k] > 0)) continue;
    here[count] = k;
    root[count++] = Math.sqrt(area[k]);
  }
  const out = new Float64Array(p * count);
  for (let i = 0; i < p; i++)
    for (let k = 0; k < count; k++) out[i * count + k] = root[k] * lift[i * nodes + here[k]];
  return out;
}

/** Outward motion at the nodes of a plate, P x nodes. normal: unit, 3 by node. */
function normalMotion(body: StructureModes, node: Uint32Array, normal: Float64Array): Float64Array {
  const { shapes } = body;
  const all = body.surface.nodes.length;
  const n = node.length;
  const p = body.rigidCount + body.count;
  const out = new Float64Array(p * n);
  for (let i = 0; i < p; i++) {
    for (let k = 0; k < n; k++) {
      const at = i * all + 3 * node[k];
      out[i * n + k] =
        normal[3 * k] * shapes[at] + normal[3 * k + 1] * shapes[at + 1] + normal[3 * k + 2] * shapes[at + 2];
    }
  }
  return out;
}

/** Unit normals (3 by node) and areas of a plate's nodes, from the surface's triangles of that part. */
function nodeNormals(
  body: StructureModes,
  part: number,
  node: Uint32Array,
): { readonly normal: Float64Array; readonly area: Float64Array } {
  const { nodes, triangles, part: of } = body.surface;
  const sum = new Float64Array(nodes.length);
  const area = new Float64Array(nodes.length / 3);
  for (let t = 0; t < of.length; t++) {
    if (of[t] !== part) continue;
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const ux = nodes[b] - nodes[a];
    const uy = nodes[b + 1] - nodes[a + 1];
    const uz = nodes[b + 2] - nodes[a + 2];
    const vx = nodes[c] - nodes[a];
    const vy = nodes[c + 1] - nodes[a + 1];
    const vz = nodes[c + 2] - nodes[a + 2];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const sixth = Math.sqrt(x * x + y * y + z * z) / 6;
    for (let corner = 0; corner < 3; corner++) {
      const k = triangles[3 * t + corner];
      area[k] += sixth;
      sum[3 * k] += x;
      sum[3 * k + 1] += y;
      sum[3 * k + 2] += z;
    }
  }
  const normal = new Float64Array(3 * node.length);
  node.forEach((k, i) => {
    const size = Math.hypot(sum[3 * k], sum[3 * k + 1], sum[3 * k + 2]);
    for (let d = 0; d < 3; d++) normal[3 * i + d] = size > 0 ? sum[3 * k + d] / size : 0;
  });
  return { normal, area: Float64Array.from(node, (k) => area[k]) };
}
