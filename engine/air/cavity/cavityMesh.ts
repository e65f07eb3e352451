import { done, failed, type Outcome } from "#engine/numerics";
import { type CavityPlan, cavityPlan } from "./cavityPlan.ts";
import { type CavityWall, type WallFace, wallParts } from "./cavityRecords.ts";
import { backHeight, type CavitySpec, topHeight } from "./cavitySpec.ts";

/**
 * The plan extruded between the inner faces: over every plan node stands a fibre of 2 layers + 1 nodes at even steps from
 * the back (s = 0) to the top (s = 1). Field node = plan node x levels + level.
 */
export interface CavityMesh {
  readonly plan: CavityPlan;
  readonly layers: number;
  readonly levels: number;
  /** By plan node, m: the back's and the top's inner face. */
  readonly bottom: Float64Array;
  readonly top: Float64Array;
  readonly wall: CavityWall;
}

/** Fails with the reasons of `cavityPlan`, and 'cavity-without-depth' where back and top meet or a dome ends. */
export function cavityMesh(spec: CavitySpec): Outcome<CavityMesh> {
  const made = cavityPlan(spec);
  if (!made.ok) return made;
  const plan = made.value;
  const count = plan.nodes.length / 2;
  const bottom = new Float64Array(count);
  const top = new Float64Array(count);
  for (let p = 0; p < count; p++) {
    const [x, y] = [plan.nodes[2 * p], plan.nodes[2 * p + 1]];
    bottom[p] = backHeight(spec.back, x, y);
    top[p] = topHeight(spec.top, x, y);
    if (!(top[p] - bottom[p] > 0)) {
      return failed(
        "cavity-without-depth",
        `at (${x.toPrecision(3)}, ${y.toPrecision(3)}) m the back lies ${(bottom[p] - top[p]).toPrecision(2)} m above the top`,
      );
    }
  }
  const layers = spec.layers;
  const levels = 2 * layers + 1;
  const shape = { plan, layers, levels, bottom, top };
  return done({ ...shape, wall: cavityWall(shape, spec.hole?.scoop.height ?? 0) }, made.warnings);
}

function cavityWall(mesh: Omit<CavityMesh, "wall">, scoop: number): CavityWall {
  const { plan, layers, levels, bottom, top } = mesh;
  const { nodes, triangles: six, inHole, rim, open } = plan;
  const fieldNode: number[] = [];
  const xyz: number[] = [];
  const named = new Map<number, number>();
  const wallNode = (p: number, level: number): number => {
    const field = p * levels + level;
    let w = named.get(field);
    if (w === undefined) {
      w = fieldNode.length;
      named.set(field, w);
      fieldNode.push(field);
      const s = level / (levels - 1);
      xyz.push(nodes[2 * p], nodes[2 * p + 1], bottom[p] + s * (top[p] - bottom[p]));
    }
    return w;
  };
  const faces: WallFace[] = [];
  const triangles: number[] = [];
  const part: number[] = [];
  const add = (face: WallFace, cut: readonly number[]) => {
    faces.push(face);
    for (const k of cut) triangles.push(face.nodes[k]);
    for (let k = 0; k < cut.length; k += 3) part.push(face.part);
  };
  for (let t = 0; 6 * t < six.length; t++) {
    const [a, b, c, ab, bc, ca] = six.subarray(6 * t, 6 * t + 6);
    const above = Uint32Array.from([a, b, c, ab, bc, ca], (p) => wallNode(p, levels - 1));
    add({ nodes: above, part: inHole[t] ? wallParts.aperture : wallParts.top }, CUT_TRIANGLE);
    const below = Uint32Array.from([a, c, b, ca, bc, ab], (p) => wallNode(p, 0));
    add({ nodes: below, part: wallParts.back }, CUT_TRIANGLE);
  }
  for (let e = 0; 3 * e < rim.length; e++) {
    for (let layer = 0; layer < layers; layer++) {
      const ids: number[] = [];
      for (let level = 2 * layer; level <= 2 * layer + 2; level++)
        for (let k = 0; k < 3; k++) ids.push(wallNode(rim[3 * e + k], level));
      const p = rim[3 * e + 1];
      const below = (top[p] - bottom[p]) * (1 - (layer + 0.5) / layers);
      const scooped = open[e] === 1 && below < scoop;
      add({ nodes: Uint32Array.from(ids), part: scooped ? wallParts.aperture : wallParts.side }, CUT_SQUARE);
    }
  }
  return {
    nodes: Float64Array.from(xyz),
    triangles: Uint32Array.from(triangles),
    part: Uint8Array.from(part),
    fieldNode: Uint32Array.from(fieldNode),
    faces,
  };
}

/** Places in a face's list: its corner triangles and the middle one. */
const CUT_TRIANGLE = [0, 3, 5, 3, 1, 4, 5, 4, 2, 3, 4, 5] as const;
/** A 3 x 3 face, along then up, as eight triangles. */
const CUT_SQUARE = [0, 1, 4, 0, 4, 3, 1, 2, 5, 1, 5, 4, 3, 4, 7, 3, 7, 6, 4, 5, 8, 4, 8, 7] as const;
