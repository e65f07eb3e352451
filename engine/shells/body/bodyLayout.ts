import { done, failed, type Outcome } from "#engine/numerics";
import { boxExcess, type RigidRegions, rigidRegions } from "./blockNodes.ts";
import type { BodyLayout, BodyMesh, MotionMap } from "./bodyModel.ts";
import type { BodyShellSpec, NeckStation, Triple } from "./bodySpec.ts";
import { frameLine } from "./frameLine.ts";

/** Elements along the neck, along the clear end of the board, and along a rod. */
const neckPieces = 16;
const tonguePieces = 4;
const rodPieces = 4;

/**
 * Numbers nodes, motions and rows. Fails as `rigidRegions` does, with 'neck-unattached' (its block is not in the spec), 'support'
 * (nothing to hold), 'bad-neck' (fewer than two stations, no length).
 */
export function bodyLayout(spec: BodyShellSpec, mesh: BodyMesh): Outcome<BodyLayout> {
  const found = rigidRegions(spec, mesh);
  if (!found.ok) return found;
  const regions = found.value;
  const shellNodes = mesh.surface.nodes.length / 3;
  const places: number[] = [...mesh.surface.nodes];
  const addLine = (line: Float64Array): Uint32Array => {
    const first = places.length / 3;
    places.push(...line);
    return Uint32Array.from({ length: line.length / 3 }, (_, k) => first + k);
  };
  const { neck } = spec;
  let neckNode: Uint32Array = new Uint32Array(0);
  let tongueNode: Uint32Array = new Uint32Array(0);
  if (neck !== null) {
    for (const [to, stations] of [
      [neck.to, neck.stations] as const,
      ...(neck.tongue === null ? [] : [[neck.tongue.to, neck.tongue.stations] as const]),
    ]) {
      const fault = beamFault(neck.from, to, stations);
      if (fault !== null) return failed("bad-neck", fault);
    }
    neckNode = addLine(frameLine(neck.from, neck.to, neck.stations, neckPieces));
    if (neck.tongue !== null)
      tongueNode = addLine(frameLine(neck.from, neck.tongue.to, neck.tongue.stations, tonguePieces));
  }
  const rodNode = spec.rods.map((rod) => {
    const line = new Float64Array(3 * (rodPieces + 1));
    for (let k = 0; k <= rodPieces; k++)
      for (let q = 0; q < 3; q++) line[3 * k + q] = rod.from[q] + ((rod.to[q] - rod.from[q]) * k) / rodPieces;
    return addLine(line);
  });
  const firstRegion = places.length / 3;
  for (let r = 0; r < regions.count; r++) places.push(...regionCentre(spec, regions, r));

  /** Node that carries a frame's end: a region's reference node or a shell node. */
  const carrier = (p: Triple): number => {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    spec.blocks.forEach((box, b) => {
      const d = Math.hypot(...boxExcess(box, p));
      if (d < least) {
        least = d;
        best = firstRegion + regions.ofBlock[b];
      }
    });
    // a frame let into a block or ending within a board's thickness of it is the block's
    if (least < 5e-3) return best;
    const node = nearestNode(mesh.surface.nodes, p);
    return regions.ofNode[node] >= 0 ? firstRegion + regions.ofNode[node] : node;
  };
  /** Frame nodes that hang rigidly on a carrier. */
  const hangsOn = new Map<number, number>();
  if (neck !== null) {
    let on: number;
    if (neck.attach === null) on = carrier(neck.from);
    else {
      const b = spec.blocks.findIndex((box) => box.name === neck.attach);
      if (b < 0)
        return failed(
          "neck-unattached",
          `the neck is fixed to "${neck.attach}", which is not among the blocks`,
        );
      on = firstRegion + regions.ofBlock[b];
    }
    hangsOn.set(neckNode[0], on);
    if (neck.tongue !== null) hangsOn.set(tongueNode[0], on);
  }
  spec.rods.forEach((rod, r) => {
    hangsOn.set(rodNode[r][0], carrier(rod.from));
    hangsOn.set(rodNode[r][rodPieces], carrier(rod.to));
  });
  for (let k = 0; k < shellNodes; k++)
    if (regions.ofNode[k] >= 0) hangsOn.set(k, firstRegion + regions.ofNode[k]);

  const held = new Set<number>();
  if (spec.support === "neck and tail") {
    const depth = -spec.heights.depthAtTail / 2;
    const hold = (node: number, motions: readonly number[]): number => {
      const on = hangsOn.get(node) ?? node;
      // a held point inside a block becomes the block's reference point
      if (on >= firstRegion) for (let q = 0; q < 3; q++) places[3 * on + q] = places[3 * node + q];
      for (const m of motions) held.add(6 * on + m);
      return on;
    };
    const tail = hold(nearestNode(mesh.surface.nodes, [0, 0, depth]), [0, 1, 2]);
    const far = neckNode.at(-1) ?? nearestNode(mesh.surface.nodes, [spec.heights.length, 0, depth]);
    if ((hangsOn.get(far) ?? far) === tail)
      return failed("support", "neck and tail are the same rigid block: the body cannot be held at both");
    hold(far, [1, 2, 3]);
  }

  const nodeCount = places.length / 3;
  const plates = [
    [mesh.top, mesh.topNode],
    [mesh.back, mesh.backNode],
  ] as const;
  let motions = 6 * nodeCount;
  const turns: { node: number; free: boolean }[] = [];
  const maps = plates.map(([plate, bodyNode]) => {
    if (plate === null) return new Uint32Array(0);
    const crossed = crossings(plate.ribs);
    const list = Uint32Array.from(
      { length: 6 * bodyNode.length },
      (_, k) => 6 * bodyNode[Math.floor(k / 6)] + (k % 6),
    );
    const own: number[] = [];
    for (const chain of plate.ribs) {
      for (const node of chain) {
        // where ribs cross each keeps the other square; a block keeps a rib glued into it square
        turns.push({ node: bodyNode[node], free: !crossed.has(node) && !hangsOn.has(bodyNode[node]) });
        own.push(motions++);
      }
    }
    return Uint32Array.from([...list, ...own]);
  });

  // rows of the nodes that stand on their own, node after node, a rib's turn beside its node
  const place = Float64Array.from(places);
  const turnsOf = new Map<number, number[]>();
  turns.forEach(({ node, free }, t) => {
    if (free) turnsOf.set(node, [...(turnsOf.get(node) ?? []), t]);
  });
  const rowOf = new Int32Array(motions).fill(-1);
  const group: number[] = [];
  for (let node = 0; node < nodeCount; node++) {
    if (hangsOn.has(node)) continue;
    for (let k = 0; k < 6; k++) {
      if (!held.has(6 * node + k)) rowOf[6 * node + k] = group.push(node) - 1;
    }
    for (const t of turnsOf.get(node) ?? []) rowOf[6 * nodeCount + t] = group.push(node) - 1;
  }
  return done({
    shellNodes,
    places: place,
    motions,
    n: group.length,
    map: motionMap(place, rowOf, hangsOn),
    group: Uint32Array.from(group),
    rowMotion: rowMotions(rowOf, group.length),
    topMotion: maps[0],
    backMotion: maps[1],
    blockNode: Uint32Array.from(regions.ofBlock, (r) => firstRegion + r),
    neckNode,
    tongueNode,
    rodNode,
    hangsOn: Int32Array.from({ length: nodeCount }, (_, k) => hangsOn.get(k) ?? -1),
  });
}

function rowMotions(rowOf: Int32Array, n: number): Uint32Array {
  const out = new Uint32Array(n);
  rowOf.forEach((row, motion) => {
    if (row >= 0) out[row] = motion;
  });
  return out;
}

/** Motions in terms of rows: u = U + Theta x r for what hangs on another node. */
function motionMap(places: Float64Array, rowOf: Int32Array, hangsOn: ReadonlyMap<number, number>): MotionMap {
  const nodeCount = places.length / 3;
  const start = new Uint32Array(rowOf.length + 1);
  const most = rowOf.length + 12 * hangsOn.size;
  const row = new Uint32Array(most);
  const weight = new Float64Array(most);
  let count = 0;
  const add = (motion: number, w: number): void => {
    if (rowOf[motion] < 0 || w === 0) return;
    row[count] = rowOf[motion];
    weight[count++] = w;
  };
  for (let node = 0; node < nodeCount; node++) {
    const on = hangsOn.get(node);
    for (let q = 0; q < 6; q++) {
      if (on === undefined) add(6 * node + q, 1);
      else {
        add(6 * on + q, 1);
        if (q < 3) {
          const a = (q + 1) % 3;
          const b = (q + 2) % 3;
          // (Theta x r)_q = Theta_a r_b - Theta_b r_a
          add(6 * on + 3 + a, places[3 * node + b] - places[3 * on + b]);
          add(6 * on + 3 + b, places[3 * on + a] - places[3 * node + a]);
        }
      }
      start[6 * node + q + 1] = count;
    }
  }
  for (let k = 6 * nodeCount; k < rowOf.length; k++) {
    add(k, 1);
    start[k + 1] = count;
  }
  return { start, row: row.slice(0, count), weight: weight.slice(0, count) };
}

/** Nodes at which two ribs pass through each other: inside both their chains. */
function crossings(ribs: readonly Uint32Array[]): ReadonlySet<number> {
  const once = new Set<number>();
  const twice = new Set<number>();
  for (const chain of ribs)
    for (const node of chain.subarray(1, -1)) (once.has(node) ? twice : once).add(node);
  return twice;
}

/** Centre of mass of the blocks of one region (plain mean where they weigh nothing). */
function regionCentre(spec: BodyShellSpec, regions: RigidRegions, r: number): Triple {
  const own = spec.blocks.filter((_, b) => regions.ofBlock[b] === r);
  const total = own.reduce((sum, b) => sum + b.mass, 0);
  const at = (k: 0 | 1 | 2): number =>
    own.reduce((sum, b) => sum + (total > 0 ? b.mass / total : 1 / own.length) * b.centre[k], 0);
  return [at(0), at(1), at(2)];
}

/** The node nearest to a place. */
export function nearestNode(nodes: Float64Array, p: Triple): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < nodes.length / 3; k++) {
    const d = (nodes[3 * k] - p[0]) ** 2 + (nodes[3 * k + 1] - p[1]) ** 2 + (nodes[3 * k + 2] - p[2]) ** 2;
    if (d < least) {
      least = d;
      best = k;
    }
  }
  return best;
}

function beamFault(from: Triple, to: Triple, stations: readonly NeckStation[]): string | null {
  if (stations.length < 2) return "the neck needs its section at two places at least";
  if (!(Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]) > 1e-3))
    return "the neck has no length";
  const bad = stations.find((s) => !(s.EA > 0 && s.EIz > 0 && s.EIy > 0 && s.GJ > 0 && s.massPerLength >= 0));
  return bad === undefined
    ? null
    : `the neck's section at ${bad.s} of its length has no stiffness or a negative mass`;
}
