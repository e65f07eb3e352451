import { polygonArea } from "#engine/geometry";
import { distanceToChain } from "./chains.ts";
import { twiceArea } from "./meshQuality.ts";
import type { MeshFault, PlanMesh, PlanRegion } from "./planMesh.ts";
import { edgeKey } from "./triangulate.ts";

/**
 * Everything wrong with a mesh of a region; empty if nothing is. It checks indices, turning sense, that every edge
 * belongs to two triangles or to the boundary and one, that loops and lines are edges of the mesh and follow the
 * region (to a quarter of the mesh's longest edge), that no node is double or unused, and the area: the
 * mesh may differ from the region by the sag of its boundary chords only.
 */
export function meshFaults(mesh: PlanMesh, region: PlanRegion): readonly MeshFault[] {
  const faults: MeshFault[] = [];
  const say = (code: MeshFault["code"], detail: string) => faults.push({ code, detail });
  const count = mesh.nodes.length / 2;
  const chains = [...mesh.boundary, ...mesh.lines];
  if ([mesh.triangles, ...chains].some((list) => list.some((p) => p >= count))) {
    say("bad-index", "a triangle or chain names a node that is not there");
    return faults;
  }
  const sharing = new Map<number, number>();
  const directed = new Set<number>();
  for (let f = 0; f < mesh.triangles.length / 3; f++) {
    if (!(twiceArea(mesh, f) > 0)) say("flipped", `triangle ${f} does not run anticlockwise`);
    for (let k = 0; k < 3; k++) {
      const a = mesh.triangles[3 * f + k];
      const b = mesh.triangles[3 * f + ((k + 1) % 3)];
      sharing.set(edgeKey(a, b), (sharing.get(edgeKey(a, b)) ?? 0) + 1);
      if (directed.has(a * 67108864 + b))
        say("not-conforming", `two triangles lie on one side of edge ${a}-${b}`);
      directed.add(a * 67108864 + b);
    }
  }
  const rim = new Set<number>();
  mesh.boundary.forEach((loop, l) => {
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length];
      rim.add(edgeKey(a, b));
      // Loops run anticlockwise: the region lies left of the outline and right of a hole's edge.
      if (!directed.has(l === 0 ? a * 67108864 + b : b * 67108864 + a))
        say("boundary", `loop ${l} edge ${a}-${b} is no edge of the region`);
    });
  });
  for (const [key, n] of sharing) {
    if (n !== (rim.has(key) ? 1 : 2)) say("not-conforming", `an edge belongs to ${n} triangles`);
  }
  nodeFaults(mesh, say);
  mesh.lines.forEach((line, l) => {
    for (let i = 0; i + 1 < line.length; i++) {
      if (!sharing.has(edgeKey(line[i], line[i + 1]))) say("line", `line ${l} is not followed by mesh edges`);
    }
  });
  placeFaults(mesh, region, say);
  return faults;
}

type Say = (code: MeshFault["code"], detail: string) => void;

function nodeFaults(mesh: PlanMesh, say: Say): void {
  const used = new Uint8Array(mesh.nodes.length / 2);
  for (const p of mesh.triangles) used[p] = 1;
  if (used.includes(0)) say("unused-node", `node ${used.indexOf(0)} belongs to no triangle`);
  const seen = new Set<string>();
  for (let p = 0; p < used.length; p++) seen.add(`${mesh.nodes[2 * p]},${mesh.nodes[2 * p + 1]}`);
  if (seen.size < used.length) say("double-node", "two nodes lie at one place");
}

function coordinates(mesh: PlanMesh, chain: Uint32Array, closed: boolean): Float64Array {
  const list = closed ? [...chain, chain[0]] : [...chain];
  return Float64Array.from(list.flatMap((p) => [mesh.nodes[2 * p], mesh.nodes[2 * p + 1]]));
}

function closedChain(loop: Float64Array): Float64Array {
  return Float64Array.of(...loop, loop[0], loop[1]);
}

/** Longest edge of a chain. */
function longestEdge(chain: Float64Array): number {
  let longest = 0;
  for (let i = 0; i + 3 < chain.length; i += 2) {
    longest = Math.max(longest, Math.hypot(chain[i + 2] - chain[i], chain[i + 3] - chain[i + 1]));
  }
  return longest;
}

function placeFaults(mesh: PlanMesh, region: PlanRegion, say: Say): void {
  const given = [region.outline, ...region.holes];
  if (mesh.boundary.length !== given.length || mesh.lines.length !== region.lines.length) {
    say("boundary", "the mesh has not as many loops and lines as the region");
    return;
  }
  let meshArea = 0;
  for (let f = 0; f < mesh.triangles.length / 3; f++) meshArea += twiceArea(mesh, f) / 2;
  let area = 0;
  let allowed = 0;
  mesh.boundary.forEach((loop, l) => {
    const exact = closedChain(given[l]);
    const chords = coordinates(mesh, loop, true);
    let apart = 0;
    for (let i = 0; i < chords.length; i += 2) {
      apart = Math.max(apart, distanceToChain(exact, chords[i], chords[i + 1]));
    }
    const longest = longestEdge(chords);
    if (apart > 1e-9 * longest + 0.03 * longest)
      say("boundary", `a node of loop ${l} lies ${apart} m off it`);
    let sag = 0;
    for (let i = 0; i < exact.length; i += 2)
      sag = Math.max(sag, distanceToChain(chords, exact[i], exact[i + 1]));
    if (sag > 0.1 * longest) say("boundary", `loop ${l} is cut by ${sag} m`);
    area += (l === 0 ? 1 : -1) * Math.abs(polygonArea(given[l]));
    // The chords lie within the sag of the loop everywhere; a sag above the mesher's own allowance does not excuse.
    const sagAllowed = Math.min(sag, 0.05 * longest);
    for (let i = 0; i + 3 < chords.length; i += 2) {
      allowed += sagAllowed * Math.hypot(chords[i + 2] - chords[i], chords[i + 3] - chords[i + 1]);
    }
  });
  if (!(Math.abs(meshArea - area) <= allowed + 1e-9 * area)) {
    say("area", `the mesh covers ${meshArea} m2 of ${area} m2`);
  }
  let longest = 0;
  for (let e = 0; e < mesh.triangles.length; e += 3) {
    longest = Math.max(longest, longestEdge(coordinates(mesh, mesh.triangles.subarray(e, e + 3), true)));
  }
  const gap = 0.25 * longest;
  mesh.lines.forEach((line, l) => {
    const chords = coordinates(mesh, line, false);
    const exact = region.lines[l];
    for (const [from, onto] of [
      [chords, exact],
      [exact, chords],
    ] as const) {
      for (let i = 0; i < from.length; i += 2) {
        const apart = distanceToChain(onto, from[i], from[i + 1]);
        if (apart > gap) say("line", `the chain of line ${l} parts from it by ${apart} m`);
      }
    }
    const ends = [exact[0], exact[1], exact[exact.length - 2], exact[exact.length - 1]];
    const got = [chords[0], chords[1], chords[chords.length - 2], chords[chords.length - 1]];
    const apart = Math.max(
      Math.hypot(ends[0] - got[0], ends[1] - got[1]),
      Math.hypot(ends[2] - got[2], ends[3] - got[3]),
    );
    if (apart > 2 * gap) say("line", `an end of line ${l} is ${apart} m from its node`);
  });
}
