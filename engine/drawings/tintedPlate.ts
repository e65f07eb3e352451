import { levelLines, regionAbove, thinned } from "./contours.ts";
import { filled, group, lineMm, type Mark, stroked } from "./displayList.ts";
import type { Ink } from "./inks.ts";
import type { Placing } from "./placing.ts";
import type { PlanView, PlateMesh } from "./voiceView.ts";

/** Four edges, ascending, all above zero: where one tint gives way to the next, on both sides of zero. */
export type BandEdges = readonly [number, number, number, number];

/** A plate's values as tints, brown above zero and green-blue below it, from faint to strong at the edges given. */
export function tintBands(
  mesh: PlateMesh,
  values: Float64Array,
  edges: BandEdges,
  place: Placing,
  inner: ReadonlySet<number>,
): readonly Mark[] {
  const inward = values.map((v) => -v);
  return edges.flatMap((edge, i) => {
    const tint = (i + 1) as 1 | 2 | 3 | 4;
    return [
      ...band(drawn(regionAbove(mesh, values, edge, inner), place), `out${tint}`),
      ...band(drawn(regionAbove(mesh, inward, edge, inner), place), `in${tint}`),
    ];
  });
}

/** The line on which a plate's values cross zero, where it is longer than noise of the mesh. */
export function zeroLine(mesh: PlateMesh, values: Float64Array, place: Placing): readonly Mark[] {
  const zero = levelLines(mesh, values, 0);
  return [
    stroked(drawn(zero.open, place).filter(longEnough), { ink: "ink", widthMm: lineMm.medium }),
    stroked(drawn(zero.rings, place).filter(longEnough), { ink: "ink", widthMm: lineMm.medium }, true),
  ];
}

/** Braces seen through one plate, and on the top the hole and the bridge. */
export function plateParts(plan: PlanView, plate: "top" | "back", place: Placing): readonly Mark[] {
  const braces = plan.braces.filter((b) => b.plate === plate).map((b) => place.chain(b.path));
  return [
    stroked(braces, { ink: "soft", widthMm: lineMm.hair, dashMm: [1.2, 0.6] }),
    ...(plate === "top"
      ? [
          stroked([place.chain(plan.hole)], { ink: "ink", widthMm: lineMm.thin }, true),
          stroked([place.chain(plan.bridge)], { ink: "ink", widthMm: lineMm.thin }, true),
        ]
      : []),
  ];
}

/** A + or a - of two arms on the sheet. */
export function signMark(sign: 1 | -1, x: number, y: number, ink: Ink, arm = 1.3): Mark {
  const level = Float64Array.of(x - arm, y, x + arm, y);
  const upright = Float64Array.of(x, y - arm, x, y + arm);
  return stroked(sign > 0 ? [level, upright] : [level], { ink, widthMm: lineMm.bold });
}

/** Nodal lines shorter than this on the sheet are noise of the mesh, mm. */
const shortestLineMm = 3;

function drawn(chains: readonly Float64Array[], place: Placing): Float64Array[] {
  const tolerance = 0.05 / place.mmPerMetre;
  return chains.map((c) => place.chain(thinned(c, tolerance)));
}

function band(pieces: readonly Float64Array[], ink: Ink): readonly Mark[] {
  return pieces.length === 0 ? [] : [group(`band ${ink}`, [filled(pieces, ink)])];
}

function longEnough(chain: Float64Array): boolean {
  let length = 0;
  for (let i = 2; i < chain.length; i += 2)
    length += Math.hypot(chain[i] - chain[i - 2], chain[i + 1] - chain[i - 1]);
  return length >= shortestLineMm;
}

/** Round edges for values of up to `largest`: steps of 1, 2, 5, the strongest tint beginning below 0.85 of it. */
export function roundEdges(largest: number): BandEdges {
  const steps = [1, 2, 5];
  const value = (k: number) => steps[((k % 3) + 3) % 3] * 10 ** Math.floor(k / 3);
  let k = 3 * Math.floor(Math.log10(largest)) + 2;
  while (value(k) > 0.85 * largest) k--;
  return [value(k - 3), value(k - 2), value(k - 1), value(k)];
}

/** Index of the greatest and of the least value among the nodes that a triangle uses. */
export function extremesOf(
  mesh: PlateMesh,
  values: Float64Array,
): { readonly most: number; readonly least: number } {
  let most = mesh.triangles[0];
  let least = most;
  for (const node of mesh.triangles) {
    if (values[node] > values[most]) most = node;
    if (values[node] < values[least]) least = node;
  }
  return { most, least };
}
