import type { BodyLayout, BodyMesh } from "./bodyModel.ts";
import type { BodyShellSpec } from "./bodySpec.ts";

/**
 * Names of the parts that do not hang together with the rest (the largest group of nodes): top, back, sides, blocks, neck,
 * rods. Empty for a sound body. A body of one plate alone is sound.
 */
export function looseParts(spec: BodyShellSpec, mesh: BodyMesh, layout: BodyLayout): string[] {
  const count = layout.places.length / 3;
  const parent = Int32Array.from({ length: count }, (_, k) => k);
  const root = (k: number): number => {
    let r = k;
    while (parent[r] !== r) {
      parent[r] = parent[parent[r]];
      r = parent[r];
    }
    return r;
  };
  const join = (a: number, b: number): void => {
    parent[root(a)] = root(b);
  };
  const { triangles, part } = mesh.surface;
  const first: (number | undefined)[] = [undefined, undefined, undefined];
  for (let e = 0; e < part.length; e++) {
    join(triangles[3 * e], triangles[3 * e + 1]);
    join(triangles[3 * e], triangles[3 * e + 2]);
    first[part[e]] ??= triangles[3 * e];
  }
  for (let k = 0; k < count; k++) if (layout.hangsOn[k] >= 0) join(k, layout.hangsOn[k]);
  for (const chain of [layout.neckNode, layout.tongueNode, ...layout.rodNode])
    for (let k = 1; k < chain.length; k++) join(chain[k - 1], chain[k]);
  const size = new Map<number, number>();
  for (let k = 0; k < count; k++) size.set(root(k), (size.get(root(k)) ?? 0) + 1);
  let main = root(0);
  for (const [r, nodes] of size) if (nodes > (size.get(main) ?? 0)) main = r;
  const loose: string[] = [];
  const check = (name: string, node: number | undefined): void => {
    if (node !== undefined && root(node) !== main) loose.push(name);
  };
  check("top", first[0]);
  check("back", first[1]);
  check("sides", first[2]);
  spec.blocks.forEach((box, b) => {
    check(box.name, layout.blockNode[b]);
  });
  check("neck", layout.neckNode[0]);
  spec.rods.forEach((rod, r) => {
    check(rod.name, layout.rodNode[r][0]);
  });
  return loose;
}
