import { sharpAngle } from "./features.ts";
import { after, type TriangleNet } from "./triangleNet.ts";

/** The edges that must stay, and where two of them meet at a sharp angle. */
export interface HeldStars {
  /** One half-edge of each. */
  readonly edges: Uint32Array;
  /** Of those at node p: list[start[p] .. start[p + 1]). */
  readonly start: Uint32Array;
  readonly list: Uint32Array;
  /** By node: 1 where two of them meet at a sharp angle. */
  readonly sharp: Uint8Array;
}

export function heldStars(net: TriangleNet, xy: Float64Array): HeldStars {
  const { triangles, twins, fixed } = net;
  const nodes = xy.length / 2;
  const found: number[] = [];
  const start = new Uint32Array(nodes + 1);
  for (let e = 0; e < fixed.length; e++) {
    if (fixed[e] === 0 || (twins[e] >= 0 && twins[e] < e)) continue;
    found.push(e);
    start[triangles[e] + 1]++;
    start[triangles[after(e)] + 1]++;
  }
  const edges = Uint32Array.from(found);
  for (let p = 0; p < nodes; p++) start[p + 1] += start[p];
  const next = start.slice(0, nodes);
  const list = new Uint32Array(2 * edges.length);
  for (let k = 0; k < edges.length; k++) {
    list[next[triangles[edges[k]]]++] = edges[k];
    list[next[triangles[after(edges[k])]]++] = edges[k];
  }
  const sharp = new Uint8Array(nodes);
  const stars = { edges, start, list, sharp };
  for (let p = 0; p < nodes; p++)
    if (start[p + 1] > start[p] + 1 && meetsSharply(net, xy, stars, p)) sharp[p] = 1;
  return stars;
}

/** Whether some two of the held edges at p enclose at most the sharp angle. */
function meetsSharply(net: TriangleNet, xy: Float64Array, { start, list }: HeldStars, p: number): boolean {
  const least = Math.cos(sharpAngle);
  for (let i = start[p]; i < start[p + 1]; i++) {
    const q = otherEnd(net, list[i], p);
    const ux = xy[2 * q] - xy[2 * p];
    const uy = xy[2 * q + 1] - xy[2 * p + 1];
    for (let j = start[p]; j < i; j++) {
      const r = otherEnd(net, list[j], p);
      const vx = xy[2 * r] - xy[2 * p];
      const vy = xy[2 * r + 1] - xy[2 * p + 1];
      const along = ux * vx + uy * vy;
      if (along > 0 && along * along >= least * least * (ux * ux + uy * uy) * (vx * vx + vy * vy))
        return true;
    }
  }
  return false;
}

/** The other node of half-edge e, one of whose nodes is p. */
function otherEnd(net: TriangleNet, e: number, p: number): number {
  return net.triangles[e] === p ? net.triangles[after(e)] : net.triangles[e];
}
