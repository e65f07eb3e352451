import { luSolve } from "#engine/numerics";

/** Generalised strains (laminate.ts, 8) at nodes, once for each region that meets there. */
export interface NodalStrains {
  /** By pair. */
  readonly node: Uint32Array;
  readonly region: Uint32Array;
  /** 8 by pair. */
  readonly strains: Float64Array;
}

/** Triangles with their mean strains; a region is what has one and the same stack of layers. */
export interface StrainField {
  /** x, y by node: any plane coordinates. */
  readonly plan: Float64Array;
  readonly triangles: Uint32Array;
  readonly region: Uint32Array;
  /** 8 by triangle. */
  readonly strains: Float64Array;
}

/** Triangles that a linear fit takes at least: one more ring is added until there are so many. */
const enough = 6;

/**
 * A value at a node may lie so far beyond those of its triangles, in shares of their spread: a straight line over two rings asks
 * for a fifth at an edge, for more than half at a corner.
 */
const overshoot = 0.6;

/**
 * Radius (m) within which triangles count as being about a node, however small they are: the width of a brace. Where a brace's
 * end or a corner sends a force in at a point the strains of ever finer triangles grow without end; wood feels their mean
 * over about this (a choice of ours, no source).
 */
const reach = 0.004;

/**
 * Strains at the nodes, recovered region by region: a linear function of the plan is fitted to the mean strains of the
 * triangles about a node (least squares, weighted by area; those that share the node or lie within `reach` of it, and a second ring
 * at an edge) and taken at the node. Inside a plate this is nearly the average; on an edge it goes on straight to the edge. Where the triangles lie in
 * line their average stands in. O. C. Zienkiewicz, J. Z. Zhu, Int. J. Numer. Meth. Engng 33, 1331-1364 (1992), from memory.
 */
export function nodalStrains({ plan, triangles, region, strains }: StrainField): NodalStrains {
  const count = triangles.length / 3;
  const about: number[][] = Array.from({ length: plan.length / 2 }, () => []);
  for (let k = 0; k < triangles.length; k++) about[triangles[k]].push(Math.floor(k / 3));
  const middle = new Float64Array(2 * count);
  const area = new Float64Array(count);
  for (let e = 0; e < count; e++) {
    const [a, b, c] = [2 * triangles[3 * e], 2 * triangles[3 * e + 1], 2 * triangles[3 * e + 2]];
    for (let q = 0; q < 2; q++) middle[2 * e + q] = (plan[a + q] + plan[b + q] + plan[c + q]) / 3;
    area[e] =
      Math.abs(
        (plan[b] - plan[a]) * (plan[c + 1] - plan[a + 1]) - (plan[c] - plan[a]) * (plan[b + 1] - plan[a + 1]),
      ) / 2;
  }
  const nodes: number[] = [];
  const regions: number[] = [];
  const values: number[] = [];
  about.forEach((ring, node) => {
    for (const own of new Set(ring.map((e) => region[e]))) {
      let patch = near(node, ring).filter((e) => region[e] === own);
      if (patch.length < enough) {
        const corners = patch.flatMap((e) => [...triangles.subarray(3 * e, 3 * e + 3)]);
        patch = [...new Set(corners.flatMap((k) => about[k]))].filter((e) => region[e] === own);
      }
      nodes.push(node);
      regions.push(own);
      values.push(...fittedAt(plan[2 * node], plan[2 * node + 1], patch));
    }
  });
  return {
    node: Uint32Array.from(nodes),
    region: Uint32Array.from(regions),
    strains: Float64Array.from(values),
  };

  /** The ring about a node, grown as long as it meets triangles within reach. */
  function near(node: number, ring: readonly number[]): number[] {
    const found = new Set(ring);
    for (const e of found) {
      for (let c = 0; c < 3; c++) {
        for (const other of about[triangles[3 * e + c]]) {
          if (found.has(other)) continue;
          const [dx, dy] = [0, 1].map((q) => middle[2 * other + q] - plan[2 * node + q]);
          if (dx * dx + dy * dy < reach * reach) found.add(other);
        }
      }
    }
    return [...found];
  }

  function fittedAt(x: number, y: number, patch: readonly number[]): readonly number[] {
    const normal = new Float64Array(9);
    const right = new Float64Array(24);
    let size = 0;
    for (const e of patch) size = Math.max(size, Math.hypot(middle[2 * e] - x, middle[2 * e + 1] - y));
    for (const e of patch) {
      const p = [1, (middle[2 * e] - x) / size, (middle[2 * e + 1] - y) / size];
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) normal[3 * i + j] += area[e] * p[i] * p[j];
        for (let k = 0; k < 8; k++) right[8 * i + k] += area[e] * p[i] * strains[8 * e + k];
      }
    }
    // weights of the three right-hand sides in the value at the node: first row of the inverse
    const row = patch.length < 4 || slender(normal) ? null : luSolve(normal, 3, Float64Array.of(1, 0, 0));
    const w = row?.ok ? row.value : Float64Array.of(1 / normal[0], 0, 0);
    return Array.from({ length: 8 }, (_, k) => {
      let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
      for (const e of patch) {
        least = Math.min(least, strains[8 * e + k]);
        most = Math.max(most, strains[8 * e + k]);
      }
      const beyond = overshoot * (most - least);
      const fitted = w[0] * right[k] + w[1] * right[8 + k] + w[2] * right[16 + k];
      return Math.min(most + beyond, Math.max(least - beyond, fitted));
    });
  }
}

/** True if the middles lie so nearly in line that a plane through them is not known. */
function slender(m: Float64Array): boolean {
  const [xx, xy, yy] = [m[4] - m[1] ** 2 / m[0], m[5] - (m[1] * m[2]) / m[0], m[8] - m[2] ** 2 / m[0]];
  const trace = xx + yy;
  return !(xx * yy - xy * xy > 1e-3 * trace * trace);
}
