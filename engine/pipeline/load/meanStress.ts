import type { BodyMesh, PlacedStress } from "#engine/shells";

/** Greatest mean stresses of one plate's own wood in its grain axes, Pa, with the middle of the disc they were met in. */
export interface MeanStress {
  readonly along: { readonly tension: PlacedStress; readonly compression: PlacedStress };
  readonly across: { readonly tension: PlacedStress; readonly compression: PlacedStress };
  /** Greatest size. */
  readonly shear: PlacedStress;
}

/** Of both plates; null where there is no such plate. */
export interface PlateMeans {
  readonly top: MeanStress | null;
  readonly back: MeanStress | null;
}

/**
 * Disc over which a stress is averaged before it is held against a strength, m: radius. Wood parts by the mean stress over a
 * length, (2/pi) E G / f2 with fracture energy G and strength f (GUSTAFSSON-1988, from memory): some 50 mm
 * across the grain of spruce and more in shear. 20 mm across the disc stays well below. Point values where a brace or patch
 * ends depend on the mesh; this does not.
 */
export const meanRadius = 0.01;

/**
 * Mean over discs of `meanRadius` about every node, of the six stresses of `map` (along, across, shear at the inside face, then
 * outside; 6 by node), weighted by the area of the plate that goes with each node. Nodes at which all six are nought lie in
 * solid blocks and are left out, and so are discs whose middle lies within `clear` (m) of one. `nodes` x, y, z by node, m; `triangles` 3 nodes each.
 */
export function meanStress(
  nodes: Float64Array,
  triangles: Uint32Array,
  map: Float64Array,
  clear = 0,
): MeanStress {
  const count = nodes.length / 3;
  const area = nodeAreas(nodes, triangles);
  const strained = Uint8Array.from({ length: count }, (_, k) =>
    map.subarray(6 * k, 6 * k + 6).some((v) => v !== 0) ? 1 : 0,
  );
  const around = within(nodes, strained, meanRadius);
  const blocked =
    clear === 0
      ? null
      : within(
          nodes,
          strained.map((yes) => 1 - yes),
          clear,
        );
  const found = Array.from({ length: 3 }, () => ({ most: nowhere, least: nowhere }));
  const sum = new Float64Array(6);
  for (let k = 0; k < count; k++) {
    if (strained[k] === 0 || (blocked !== null && blocked(k).length > 0)) continue;
    sum.fill(0);
    let weight = 0;
    for (const other of around(k)) {
      weight += area[other]!;
      for (let q = 0; q < 6; q++) sum[q]! += area[other]! * map[6 * other + q]!;
    }
    const [x, y] = [nodes[3 * k]!, nodes[3 * k + 1]!];
    for (let q = 0; q < 6; q++) {
      const value = sum[q]! / weight;
      const own = found[q % 3]!;
      if (value > own.most.value) own.most = { value, x, y };
      if (value < own.least.value) own.least = { value, x, y };
    }
  }
  const [along, across, shear] = found as [Ends, Ends, Ends];
  return {
    along: { tension: along.most, compression: along.least },
    across: { tension: across.most, compression: across.least },
    shear: shear.most.value > -shear.least.value ? shear.most : shear.least,
  };
}

/** Mean stresses of both plates from their maps (bodyStressMaps). */
export function plateMeans(
  { top, back }: BodyMesh,
  maps: { readonly top: Float64Array | null; readonly back: Float64Array | null },
  clear = 0,
): PlateMeans {
  const of = (plate: BodyMesh["top"], map: Float64Array | null): MeanStress | null =>
    plate === null || map === null ? null : meanStress(plate.nodes, plate.triangles, map, clear);
  return { top: of(top, maps.top), back: of(back, maps.back) };
}

interface Ends {
  most: PlacedStress;
  least: PlacedStress;
}

const nowhere: PlacedStress = { value: 0, x: 0, y: 0 };

/** Nodes that count and lie within `radius` of a node in plan, found by squares of that size. */
function within(nodes: Float64Array, counts: Uint8Array, radius: number): (k: number) => number[] {
  const square = (v: number): number => Math.floor(v / radius) + 5000;
  const cells = new Map<number, number[]>();
  counts.forEach((yes, k) => {
    if (yes === 0) return;
    const key = 10000 * square(nodes[3 * k]!) + square(nodes[3 * k + 1]!);
    const held = cells.get(key);
    if (held === undefined) cells.set(key, [k]);
    else held.push(k);
  });
  return (k) => {
    const [x, y] = [nodes[3 * k]!, nodes[3 * k + 1]!];
    const near: number[] = [];
    for (let i = square(x) - 1; i <= square(x) + 1; i++)
      for (let j = square(y) - 1; j <= square(y) + 1; j++)
        for (const other of cells.get(10000 * i + j) ?? [])
          if (Math.hypot(nodes[3 * other]! - x, nodes[3 * other + 1]! - y) <= radius) near.push(other);
    return near;
  };
}

/** A third of every triangle about a node, m2. */
function nodeAreas(nodes: Float64Array, triangles: Uint32Array): Float64Array {
  const area = new Float64Array(nodes.length / 3);
  for (let e = 0; e < triangles.length; e += 3) {
    const [a, b, c] = [3 * triangles[e]!, 3 * triangles[e + 1]!, 3 * triangles[e + 2]!];
    const u = [0, 1, 2].map((q) => nodes[b + q]! - nodes[a + q]!);
    const v = [0, 1, 2].map((q) => nodes[c + q]! - nodes[a + q]!);
    const third =
      Math.hypot(
        u[1]! * v[2]! - u[2]! * v[1]!,
        u[2]! * v[0]! - u[0]! * v[2]!,
        u[0]! * v[1]! - u[1]! * v[0]!,
      ) / 6;
    for (let q = 0; q < 3; q++) area[triangles[e + q]!]! += third;
  }
  return area;
}
