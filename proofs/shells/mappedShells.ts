import { factorize, opened, solveFactored } from "#engine/numerics";
import { type PanelSystem, panelMesh, panelSystem, type ShellMesh } from "#engine/shells";
import { bare, isotropic, rectangle } from "./testPlates.ts";

/** A rectangle a x b of an isotropic sheet bent onto a surface. */
export interface Sheet {
  readonly a: number;
  readonly b: number;
  readonly E: number;
  readonly nu: number;
  readonly thickness: number;
  readonly size: number;
  readonly place: (s: number, t: number) => readonly [number, number, number];
}

/** Mesh of the developed rectangle carried to the surface, free all round; x must nowhere be normal to it. */
export function sheetSystem(sheet: Sheet): { readonly system: PanelSystem; readonly plan: Float64Array } {
  const flat = bare(rectangle(sheet.a, sheet.b), isotropic(sheet.E, sheet.nu, 1), sheet.thickness, {
    kind: "free",
  });
  const developed = opened(panelMesh(flat, sheet.size));
  const plan = developed.plan.nodes;
  const nodes = new Float64Array(developed.nodes.length);
  for (let k = 0; k < plan.length / 2; k++) nodes.set(sheet.place(plan[2 * k], plan[2 * k + 1]), 3 * k);
  const mesh: ShellMesh = { ...developed, nodes };
  return { system: panelSystem(flat, mesh), plan };
}

/** Motions 6 by node under nodal loads (6 by node) where `held` names what is held (motions of a node at a plan place). */
export function sheetMotion(
  { system, plan }: ReturnType<typeof sheetSystem>,
  held: (s: number, t: number) => readonly number[],
  load: (node: number) => readonly number[],
): Float64Array {
  const { stiffness, dof, group } = system;
  const k = { ...stiffness, values: stiffness.values.slice() };
  const b = new Float64Array(k.n);
  for (let node = 0; node < plan.length / 2; node++) {
    // the diagonal comes first in its column
    for (const m of held(plan[2 * node], plan[2 * node + 1])) k.values[k.colStart[dof[6 * node + m]]] *= 1e9;
    load(node).forEach((v, m) => {
      b[dof[6 * node + m]] = v;
    });
  }
  const x = solveFactored(opened(factorize(k, { group })), b);
  return Float64Array.from(dof, (d) => x[d]);
}

/** A third of the area of the facets at each node, m2. */
export function facetAreas({ nodes, triangles }: ShellMesh): Float64Array {
  const out = new Float64Array(nodes.length / 3);
  for (let e = 0; e < triangles.length; e += 3) {
    const [a, b, c] = triangles.subarray(e, e + 3);
    const edge = (to: number, k: number): number => nodes[3 * to + k] - nodes[3 * a + k];
    const normal = [0, 1, 2].map((k) => {
      const [p, q] = [(k + 1) % 3, (k + 2) % 3];
      return edge(b, p) * edge(c, q) - edge(b, q) * edge(c, p);
    });
    for (const node of [a, b, c]) out[node] += Math.hypot(...normal) / 6;
  }
  return out;
}

/** The node nearest to a plan place. */
export function nodeAt(plan: Float64Array, s: number, t: number): number {
  let best = 0;
  for (let k = 1; k < plan.length / 2; k++) {
    const d = (node: number): number => Math.hypot(plan[2 * node] - s, plan[2 * node + 1] - t);
    if (d(k) < d(best)) best = k;
  }
  return best;
}
