import type { BodyMesh } from "./bodyModel.ts";

export interface BodyFault {
  readonly code: "open" | "overfull-edge" | "orientation" | "inside-out" | "flat" | "unused-node" | "rim";
  readonly detail: string;
}

/**
 * What is wrong with the mesh of a closed body (top, back and sides all there). Sound: every edge has two triangles that
 * run it in opposite senses, or lies on one of `openings` closed rims (the holes); triangles have area and every node is
 * used; the normals point out (positive enclosed volume, each rim closed by a fan).
 */
export function bodyFaults(mesh: BodyMesh, openings: number): BodyFault[] {
  const { nodes, triangles } = mesh.surface;
  const faults: BodyFault[] = [];
  const count = nodes.length / 3;
  const once = new Map<number, number>();
  const used = new Uint8Array(count);
  let longest = 0;
  let volume = 0;
  for (let e = 0; e < triangles.length; e += 3) {
    const c = [triangles[e], triangles[e + 1], triangles[e + 2]] as const;
    const [a, b, d] = c.map((k) => nodes.subarray(3 * k, 3 * k + 3));
    for (let k = 0; k < 3; k++) {
      used[c[k]] = 1;
      const [i, j] = [c[k], c[(k + 1) % 3]];
      const key = count * i + j;
      if (once.has(key))
        faults.push({ code: "orientation", detail: `edge ${i} to ${j} runs twice the same way` });
      once.set(key, e / 3);
      longest = Math.max(longest, Math.hypot(...[0, 1, 2].map((q) => nodes[3 * i + q] - nodes[3 * j + q])));
    }
    const u = [0, 1, 2].map((q) => b[q] - a[q]);
    const v = [0, 1, 2].map((q) => d[q] - a[q]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const side = Math.max(Math.hypot(...u), Math.hypot(...v));
    if (!(Math.hypot(...n) > 1e-3 * side * side))
      faults.push({ code: "flat", detail: `triangle ${e / 3} has no area` });
    volume += (a[0] * n[0] + a[1] * n[1] + a[2] * n[2]) / 6;
  }
  for (let k = 0; k < count; k++) {
    if (!used[k]) faults.push({ code: "unused-node", detail: `node ${k} has no triangle` });
  }
  // edges with one triangle: followed against their sense they make the rims
  const next = new Map<number, number>();
  for (const key of once.keys()) {
    const i = Math.floor(key / count);
    const j = key - count * i;
    if (once.has(count * j + i)) continue;
    if (next.has(j)) faults.push({ code: "overfull-edge", detail: `two rims meet at node ${j}` });
    next.set(j, i);
  }
  let rims = 0;
  while (next.size > 0) {
    const [start] = next.keys();
    const rim = [start];
    let at = next.get(start);
    next.delete(start);
    while (at !== undefined && at !== start) {
      rim.push(at);
      const to = next.get(at);
      next.delete(at);
      at = to;
    }
    if (at === undefined)
      faults.push({ code: "open", detail: `the rim through node ${start} does not close` });
    rims++;
    // the rim runs against its triangles, so a fan over it is oriented outwards
    const o = nodes.subarray(3 * rim[0], 3 * rim[0] + 3);
    for (let k = 1; k + 1 < rim.length; k++) {
      const [p, q] = [
        nodes.subarray(3 * rim[k], 3 * rim[k] + 3),
        nodes.subarray(3 * rim[k + 1], 3 * rim[k + 1] + 3),
      ];
      volume +=
        (o[0] * (p[1] * q[2] - p[2] * q[1]) +
          o[1] * (p[2] * q[0] - p[0] * q[2]) +
          o[2] * (p[0] * q[1] - p[1] * q[0])) /
        6;
    }
  }
  if (rims !== openings) faults.push({ code: "rim", detail: `${rims} openings instead of ${openings}` });
  if (!(volume > 0)) faults.push({ code: "inside-out", detail: `the surface encloses ${volume} m3` });
  return faults;
}
