import { planLocator } from "#engine/meshing";
import { done, failed, type Outcome } from "#engine/numerics";
import type { CoupledRows } from "./coupledStructure.ts";
import type { StructureParts } from "./structureParts.ts";

export interface StructureRows {
  readonly rows: CoupledRows;
  /** Each string as a spring: elongation (crown to nut) by coordinate, n numbers. */
  readonly springs: readonly { readonly row: Float64Array; readonly stiffness: number }[];
}

/**
 * A crown stands at height h over its plan place and moves with it: u = u_plate + theta x (0, 0, h), hence
 *   normal = uz,   across = uy - h rx,   along = ux + h ry
 * The nut is where the neck carries it. Fails with 'crown-outside' where the saddle's middle is not over the top.
 */
export function structureRows(parts: StructureParts, n: number): Outcome<StructureRows> {
  const { body, crowns, strings, cavity } = parts;
  const p = body.rigidCount + body.count;
  const c = crowns.length;
  const crownRows = new Float64Array(3 * c * n);
  const lever = crownLever(parts);
  const points = body.points.length / (6 * p);
  for (let i = 0; i < p; i++) {
    const moved = body.points.subarray(6 * points * i, 6 * points * (i + 1));
    for (let d = 0; d < 3 * c; d++) {
      const at = 6 * Math.floor(d / 3);
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += lever[6 * d + k] * moved[at + k];
      crownRows[d * n + i] = sum;
    }
  }
  const springs = (strings ?? []).map(({ stiffness }, s) => {
    const pull = stringPull(parts, s);
    const row = new Float64Array(n);
    for (let i = 0; i < p; i++) {
      for (const [k, f] of pull) row[i] += f * body.points[6 * points * i + k];
    }
    return { stiffness, row };
  });
  const saddle = saddleRow(parts, n);
  if (!saddle.ok) return saddle;
  const flow = new Float64Array(4 * n);
  for (let i = 0; i < p; i++) {
    for (let part = 0; part < 3; part++) flow[part * n + i] = body.volume[3 * i + part];
  }
  // Pattern 0 carries unit flow, the others none.
  if (cavity?.aperture) flow[3 * n + p] = 1;
  const width = 3 * (parts.neck?.x.length ?? 0);
  const neck = new Float64Array(width * n);
  for (let d = 0; d < width; d++)
    for (let i = 0; i < p; i++) neck[d * n + i] = parts.neck?.motion[i * width + d] ?? 0;
  const structure = new Float64Array(p * n);
  for (let i = 0; i < p; i++) structure[i * n + i] = 1;
  const a = cavity?.aperture?.count ?? 0;
  const aperture = new Float64Array(a * n);
  for (let i = 0; i < a; i++) aperture[i * n + p + i] = 1;
  return done({
    rows: { crowns: crownRows, saddle: saddle.value, flow, neck, structure, aperture },
    springs,
  });
}

/** 3C x 6: motion of each crown direction by the motion [ux uy uz rx ry rz] of its own point. */
export function crownLever(parts: StructureParts): Float64Array {
  const out = new Float64Array(18 * parts.crowns.length);
  parts.crowns.forEach(({ height: h }, i) => {
    out.set([0, 0, 1, 0, 0, 0, 0, 1, 0, -h, 0, 0, 1, 0, 0, 0, h, 0], 18 * i);
  });
  return out;
}

/** Elongation of one string by the motions of all points, [index, factor]: (u_nut - u_crown) along the string. */
export function stringPull(parts: StructureParts, s: number): readonly (readonly [number, number])[] {
  const direction = parts.strings?.[s]?.direction ?? [0, 0, 0];
  const h = parts.crowns[s].height;
  const [x, y, z] = direction;
  const crown = 6 * s;
  const nut = 6 * (parts.crowns.length + s);
  return [
    [nut, x],
    [nut + 1, y],
    [nut + 2, z],
    [crown, -x],
    [crown + 1, -y],
    [crown + 2, -z],
    [crown + 3, h * y],
    [crown + 4, -h * x],
  ];
}

/** Motion along z of the top under the crowns' mean place, linear in the triangle there. */
function saddleRow(parts: StructureParts, n: number): Outcome<Float64Array> {
  const { body, crowns } = parts;
  const mean = (key: "x" | "y") => crowns.reduce((sum, crown) => sum + crown[key], 0) / crowns.length;
  const plan = body.mesh.top?.plan;
  const place = plan ? planLocator(plan)(mean("x"), mean("y")) : null;
  if (!plan || !place) return failed("crown-outside", "the saddle's midpoint is not over the top");
  const row = new Float64Array(n);
  const nodes = body.surface.nodes.length / 3;
  for (let c = 0; c < 3; c++) {
    const node = body.mesh.topNode[plan.triangles[3 * place.triangle + c]];
    for (let i = 0; i < body.rigidCount + body.count; i++)
      row[i] += place.barycentric[c] * body.shapes[3 * (i * nodes + node) + 2];
  }
  return done(row);
}
