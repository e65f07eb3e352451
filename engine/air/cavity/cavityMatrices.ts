import {
  addElements,
  done,
  failed,
  type Outcome,
  type SparseSymmetric,
  symmetricPattern,
  triangleRule,
} from "#engine/numerics";
import type { CavityMesh } from "./cavityMesh.ts";
import { lineShapes, triangleShapes } from "./quadratic.ts";

export interface CavityMatrices {
  /** Integral of grad psi_i . grad psi_j dV, m. */
  readonly stiffness: SparseSymmetric;
  /** Integral of psi_i psi_j dV, m3. */
  readonly mass: SparseSymmetric;
  /** Plan node of each field node. */
  readonly group: Uint32Array;
}

/**
 * Quadratic wedges of 18 nodes: psi = N(x, y) L(s), z = zb(x, y) + s H(x, y), s in [0, 1] from back to top. At fixed z
 *   grad_h psi = L grad N - N L' (grad zb + s grad H)/H,   psi_z = N L'/H,   dV = H ds dA
 * so that both matrices are sums of (6 x 6 over the plan) x (3 x 3 over s): the latter are exact; the former are exact for
 * straight edges and even depth (degree 4; the rule is of degree 6), the depth being quadratic over a triangle.
 * Fails with 'cavity-folded' if an edge of the plan is so curved that a triangle folds over.
 */
export function cavityMatrices(mesh: CavityMesh): Outcome<CavityMatrices> {
  const { plan, layers, levels, bottom, top } = mesh;
  const count = plan.triangles.length / 6;
  const dofs: Int32Array[] = [];
  for (let t = 0; t < count; t++) {
    for (let layer = 0; layer < layers; layer++) {
      const list = new Int32Array(18);
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 3; j++) list[3 * i + j] = plan.triangles[6 * t + i] * levels + 2 * layer + j;
      dofs.push(list);
    }
  }
  const n = (plan.nodes.length / 2) * levels;
  const stiffness = symmetricPattern(n, dofs);
  const mass = { ...stiffness, values: new Float64Array(stiffness.values.length) };
  const lines = Array.from({ length: layers }, (_, layer) => lineMatrices(layer / layers, 1 / layers));
  const ke = new Float64Array(324);
  const me = new Float64Array(324);
  for (let t = 0; t < count; t++) {
    const p = planMatrices(plan.nodes, plan.triangles.subarray(6 * t, 6 * t + 6), bottom, top);
    if (p === null) {
      const a = plan.triangles[6 * t];
      return failed(
        "cavity-folded",
        `the mesh folds over near (${plan.nodes[2 * a].toPrecision(3)}, ${plan.nodes[2 * a + 1].toPrecision(3)}) m: its edge bends too sharply there`,
      );
    }
    for (let layer = 0; layer < layers; layer++) {
      fillElement(p, lines[layer], ke, me);
      addElements([stiffness, mass], dofs[t * layers + layer], [ke, me]);
    }
  }
  return done({ stiffness, mass, group: Uint32Array.from({ length: n }, (_, i) => Math.floor(i / levels)) });
}

/** 6 x 6 integrals over one triangle of the plan, see `cavityMatrices`. */
interface PlanMatrices {
  /** H N N' and H grad N . grad N'. */
  readonly volume: Float64Array;
  readonly gradient: Float64Array;
  /** (grad N . grad zb) N' and (grad N . grad H) N'. */
  readonly slopeBottom: Float64Array;
  readonly slopeDepth: Float64Array;
  /** N N'/H times 1 + |grad zb|2, 2 grad zb . grad H, |grad H|2. */
  readonly upright: readonly Float64Array[];
}

const RULE = triangleRule(6);

function planMatrices(
  xy: Float64Array,
  six: Uint32Array,
  bottom: Float64Array,
  top: Float64Array,
): PlanMatrices | null {
  const volume = new Float64Array(36);
  const gradient = new Float64Array(36);
  const slopeBottom = new Float64Array(36);
  const slopeDepth = new Float64Array(36);
  const upright0 = new Float64Array(36);
  const upright1 = new Float64Array(36);
  const upright2 = new Float64Array(36);
  const value = new Float64Array(6);
  const du = new Float64Array(6);
  const dv = new Float64Array(6);
  const nx = new Float64Array(6);
  const ny = new Float64Array(6);
  for (let g = 0; g < RULE.weights.length; g++) {
    triangleShapes(RULE.points[3 * g + 1], RULE.points[3 * g + 2], value, du, dv);
    let xu = 0;
    let xv = 0;
    let yu = 0;
    let yv = 0;
    for (let i = 0; i < 6; i++) {
      const x = xy[2 * six[i]];
      const y = xy[2 * six[i] + 1];
      xu += x * du[i];
      xv += x * dv[i];
      yu += y * du[i];
      yv += y * dv[i];
    }
    const det = xu * yv - xv * yu;
    if (!(det > 0)) return null;
    let depth = 0;
    let bx = 0;
    let by = 0;
    let hx = 0;
    let hy = 0;
    for (let i = 0; i < 6; i++) {
      nx[i] = (yv * du[i] - yu * dv[i]) / det;
      ny[i] = (xu * dv[i] - xv * du[i]) / det;
      const b = bottom[six[i]];
      const h = top[six[i]] - b;
      depth += h * value[i];
      bx += b * nx[i];
      by += b * ny[i];
      hx += h * nx[i];
      hy += h * ny[i];
    }
    const weight = RULE.weights[g] * 0.5 * det;
    const even = (1 + bx * bx + by * by) / depth;
    const mixed = (2 * (bx * hx + by * hy)) / depth;
    const steep = (hx * hx + hy * hy) / depth;
    for (let i = 0; i < 6; i++) {
      const alongBottom = weight * (nx[i] * bx + ny[i] * by);
      const alongDepth = weight * (nx[i] * hx + ny[i] * hy);
      for (let k = 0; k < 6; k++) {
        const at = 6 * i + k;
        const both = weight * value[i] * value[k];
        volume[at] += depth * both;
        gradient[at] += weight * depth * (nx[i] * nx[k] + ny[i] * ny[k]);
        slopeBottom[at] += alongBottom * value[k];
        slopeDepth[at] += alongDepth * value[k];
        upright0[at] += both * even;
        upright1[at] += both * mixed;
        upright2[at] += both * steep;
      }
    }
  }
  return { volume, gradient, slopeBottom, slopeDepth, upright: [upright0, upright1, upright2] };
}

/** 3 x 3 integrals over s in [from, from + step]: L L', L dL'/ds and s times it, dL/ds dL'/ds and s, s2 times it. */
interface LineMatrices {
  readonly value: Float64Array;
  readonly slope: readonly [Float64Array, Float64Array];
  readonly slopes: readonly [Float64Array, Float64Array, Float64Array];
}

/** Gauss with three points: degree 5, one more than any of the integrands. */
function lineMatrices(from: number, step: number): LineMatrices {
  const nine = () => new Float64Array(9);
  const [value, slope0, slope1, slopes0, slopes1, slopes2] = [nine(), nine(), nine(), nine(), nine(), nine()];
  const [l, dl] = [new Float64Array(3), new Float64Array(3)];
  const points = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)];
  const weights = [5 / 18, 8 / 18, 5 / 18];
  for (let g = 0; g < 3; g++) {
    lineShapes(points[g], l, dl);
    const s = from + step * points[g];
    for (let j = 0; j < 3; j++) {
      for (let k = 0; k < 3; k++) {
        const at = 3 * j + k;
        const mixed = weights[g] * l[j] * dl[k];
        const slopes = (weights[g] * dl[j] * dl[k]) / step;
        value[at] += weights[g] * step * l[j] * l[k];
        slope0[at] += mixed;
        slope1[at] += s * mixed;
        slopes0[at] += slopes;
        slopes1[at] += s * slopes;
        slopes2[at] += s * s * slopes;
      }
    }
  }
  return { value, slope: [slope0, slope1], slopes: [slopes0, slopes1, slopes2] };
}

function fillElement(p: PlanMatrices, q: LineMatrices, ke: Float64Array, me: Float64Array): void {
  for (let i = 0; i < 6; i++) {
    for (let k = 0; k < 6; k++) {
      const ik = 6 * i + k;
      const ki = 6 * k + i;
      for (let j = 0; j < 3; j++) {
        for (let l = 0; l < 3; l++) {
          const jl = 3 * j + l;
          const lj = 3 * l + j;
          const at = (3 * i + j) * 18 + 3 * k + l;
          me[at] = p.volume[ik] * q.value[jl];
          ke[at] =
            p.gradient[ik] * q.value[jl] -
            p.slopeBottom[ik] * q.slope[0][jl] -
            p.slopeBottom[ki] * q.slope[0][lj] -
            p.slopeDepth[ik] * q.slope[1][jl] -
            p.slopeDepth[ki] * q.slope[1][lj] +
            p.upright[0][ik] * q.slopes[0][jl] +
            p.upright[1][ik] * q.slopes[1][jl] +
            p.upright[2][ik] * q.slopes[2][jl];
        }
      }
    }
  }
}
