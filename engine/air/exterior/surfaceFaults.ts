import type { ExteriorSurface } from "./exterior.ts";

/**
 * What is wrong with a surface that ought to be closed, in words; empty if nothing. Every edge must be run once each way,
 * every panel have an area and every node be used, the enclosed volume be positive (normals point out).
 */
export function surfaceFaults({ nodes, triangles, part }: ExteriorSurface): string[] {
  const faults: string[] = [];
  const count = triangles.length / 3;
  const places = nodes.length / 3;
  if (part.length !== count) faults.push(`${part.length} parts for ${count} panels`);
  const edges = new Set<number>();
  const used = new Uint8Array(places);
  let volume = 0;
  let span = 0;
  for (let p = 3; p < nodes.length; p++) span = Math.max(span, Math.abs(nodes[p] - nodes[p % 3]));
  if (!(span < Number.POSITIVE_INFINITY)) return ["a node has no finite place"];
  for (let t = 0; t < count; t++) {
    const corner = triangles.subarray(3 * t, 3 * t + 3);
    for (let m = 0; m < 3; m++) {
      if (corner[m] >= places) return [`panel ${t} has corner ${corner[m]} of ${places} nodes`];
      used[corner[m]] = 1;
      const key = corner[m] * places + corner[(m + 1) % 3];
      if (edges.has(key))
        faults.push(`the edge from node ${corner[m]} to ${corner[(m + 1) % 3]} is run twice`);
      edges.add(key);
    }
    const [a, b, c] = [0, 1, 2].map((m) => nodes.subarray(3 * corner[m], 3 * corner[m] + 3));
    const n = [0, 1, 2].map((d) => {
      const [e, f] = [(d + 1) % 3, (d + 2) % 3];
      return (b[e] - a[e]) * (c[f] - a[f]) - (b[f] - a[f]) * (c[e] - a[e]);
    });
    if (!(Math.hypot(n[0], n[1], n[2]) > 1e-9 * span * span)) faults.push(`panel ${t} has no area`);
    volume += (n[0] * (a[0] - nodes[0]) + n[1] * (a[1] - nodes[1]) + n[2] * (a[2] - nodes[2])) / 6;
  }
  for (const key of edges) {
    const [from, to] = [Math.floor(key / places), key % places];
    if (!edges.has(to * places + from))
      faults.push(`the edge from node ${from} to ${to} has a panel on one side only`);
  }
  if (used.some((u) => u === 0)) faults.push("a node belongs to no panel");
  if (!(volume > 0)) faults.push("the normals point inward");
  return faults;
}
