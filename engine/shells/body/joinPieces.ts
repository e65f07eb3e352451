import type { SparseSymmetric } from "#engine/numerics";
import type { BodyLayout, JoinPlan, JoinRoute } from "./bodyModel.ts";

/** The pattern of a piece's matrices, and the body motion of each of its motions. */
interface JoinPart {
  readonly pattern: SparseSymmetric;
  readonly motion: Uint32Array;
}

/**
 * Pattern of dense blocks between the layout's groups of rows (all rows of two nodes that share an entry in some part), and
 * where each part's entries go.
 *
 * An entry a of motions i >= j stands for a (e_i e_j' + e_j e_i') off the diagonal, so that with e_i = sum w_p row_p each
 * pair of rows (p of i, q of j) gains a w_p w_q, twice where they are one and the same row.
 */
export function joinPlan(
  { n, map, group }: Pick<BodyLayout, "n" | "map" | "group">,
  parts: readonly JoinPart[],
): JoinPlan {
  const groupOf = new Int32Array(n);
  const starts: number[] = [];
  for (let r = 0; r < n; r++) {
    if (r === 0 || group[r] !== group[r - 1]) starts.push(r);
    groupOf[r] = starts.length - 1;
  }
  const groups = starts.length;
  const first = Uint32Array.from([...starts, n]);
  const own = parts.map((part) => motionGroups(part.motion, map, groupOf));
  const near = neighbours(groups, parts, own);

  // column c of group h: the rest of its own group, then the groups below it one after another
  const offset = new Uint32Array(near.list.length);
  const colStart = new Uint32Array(n + 1);
  for (let h = 0; h < groups; h++) {
    let below = 0;
    for (let q = near.start[h]; q < near.start[h + 1]; q++) {
      offset[q] = below;
      below += first[near.list[q] + 1] - first[near.list[q]];
    }
    for (let c = first[h]; c < first[h + 1]; c++) colStart[c + 1] = colStart[c] + first[h + 1] - c + below;
  }
  const rowIndex = new Uint32Array(colStart[n]);
  for (let h = 0; h < groups; h++) {
    for (let c = first[h]; c < first[h + 1]; c++) {
      let at = colStart[c];
      for (let r = c; r < first[h + 1]; r++) rowIndex[at++] = r;
      for (let q = near.start[h]; q < near.start[h + 1]; q++)
        for (let r = first[near.list[q]]; r < first[near.list[q] + 1]; r++) rowIndex[at++] = r;
    }
  }
  /** Place in column c (group h) of the first row of group g > h, less that row. */
  const block = (g: number, h: number): number => {
    let q = near.start[h];
    while (near.list[q] !== g) q++;
    return offset[q] - first[g];
  };
  const { start, row, weight } = map;
  const routes = parts.map(({ pattern: a, motion }, k): JoinRoute => {
    const groups = own[k];
    const alone = loneRows(motion, map);
    const place = new Int32Array(a.rowIndex.length).fill(-1);
    const entry: number[] = [];
    const spread: number[] = [];
    const factor: number[] = [];
    for (let j = 0; j < a.n; j++) {
      const j0 = start[motion[j]];
      const j1 = start[motion[j] + 1];
      if (j0 === j1) continue;
      const h = groups[j];
      const c0 = alone[j];
      let g = -1;
      let shift = 0;
      let to = 0; // place of row 0, were it in this column
      for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
        const i = a.rowIndex[p];
        if (groups[i] < 0) continue;
        if (groups[i] !== g) {
          g = groups[i];
          shift = g === h ? 0 : g > h ? block(g, h) : block(h, g);
          if (c0 >= 0) to = colStart[c0] - c0 + (g > h ? first[h + 1] + shift : 0);
        }
        const r0 = alone[i];
        if (c0 >= 0 && g >= h && (r0 > c0 || i === j)) {
          // the usual case: both are rows themselves, and not twice the same
          place[p] = to + r0;
          continue;
        }
        const i0 = start[motion[i]];
        const i1 = start[motion[i] + 1];
        for (let u = i0; u < i1; u++) {
          const end = i === j ? u + 1 : j1;
          for (let v = j0; v < end; v++) {
            const r = Math.max(row[u], row[v]);
            const c = Math.min(row[u], row[v]);
            entry.push(p);
            spread.push(g === h ? colStart[c] + r - c : colStart[c] + first[groupOf[c] + 1] - c + shift + r);
            factor.push(weight[u] * weight[v] * (i !== j && r === c ? 2 : 1));
          }
        }
      }
    }
    return {
      place,
      entry: Uint32Array.from(entry),
      spread: Uint32Array.from(spread),
      factor: Float64Array.from(factor),
    };
  });
  return { n, colStart, rowIndex, routes };
}

/**
 * Sum over the parts of T' A T, T turning rows into motions, on the plan's pattern. By part several value arrays, all parts the
 * same number; so many matrices come back.
 */
export function joinPieces(
  { n, colStart, rowIndex, routes }: JoinPlan,
  parts: readonly (readonly Float64Array[])[],
): readonly SparseSymmetric[] {
  return parts[0].map((_, m) => {
    const sum = new Float64Array(rowIndex.length);
    parts.forEach((values, k) => {
      addAlong(routes[k], values[m], sum);
    });
    return { n, colStart, rowIndex, values: sum };
  });
}

function addAlong(
  { place, entry, spread, factor }: JoinRoute,
  values: Float64Array,
  sum: Float64Array,
): void {
  for (let p = 0; p < place.length; p++) if (place[p] >= 0) sum[place[p]] += values[p];
  for (let q = 0; q < entry.length; q++) sum[spread[q]] += factor[q] * values[entry[q]];
}

/** Group of the rows on which each motion hangs (a motion hangs on rows of one group only), -1 where it is held. */
function motionGroups(motion: Uint32Array, map: BodyLayout["map"], groupOf: Int32Array): Int32Array {
  const out = new Int32Array(motion.length);
  for (let k = 0; k < out.length; k++) {
    const at = map.start[motion[k]];
    out[k] = at === map.start[motion[k] + 1] ? -1 : groupOf[map.row[at]];
  }
  return out;
}

/** Row of each motion that is a row itself, -1 of all others. */
function loneRows(motion: Uint32Array, { start, row, weight }: BodyLayout["map"]): Int32Array {
  const out = new Int32Array(motion.length).fill(-1);
  for (let k = 0; k < out.length; k++) {
    const at = start[motion[k]];
    if (start[motion[k] + 1] === at + 1 && weight[at] === 1) out[k] = row[at];
  }
  return out;
}

/** For each group the groups above it in number with which it shares an entry, ascending. */
function neighbours(
  groups: number,
  parts: readonly JoinPart[],
  groupsOf: readonly Int32Array[],
): { readonly start: Uint32Array; readonly list: Uint32Array } {
  const keys: number[] = [];
  parts.forEach(({ pattern: a }, k) => {
    const own = groupsOf[k];
    let before = -1;
    for (let j = 0; j < a.n; j++) {
      const h = own[j];
      // a node's six columns have the same neighbours, and a rib's turn those of its node
      if (h < 0 || (j % 6 !== 0 && h === before)) continue;
      before = h;
      let last = -1;
      for (let p = a.colStart[j]; p < a.colStart[j + 1]; p++) {
        const g = own[a.rowIndex[p]];
        if (g < 0 || g === h || g === last) continue;
        last = g;
        keys.push(g > h ? h * groups + g : g * groups + h);
      }
    }
  });
  const sorted = Float64Array.from(keys).sort();
  const start = new Uint32Array(groups + 1);
  const list = new Uint32Array(sorted.length);
  let count = 0;
  sorted.forEach((key, k) => {
    if (k > 0 && key === sorted[k - 1]) return;
    const h = Math.floor(key / groups);
    list[count++] = key - h * groups;
    start[h + 1]++;
  });
  for (let h = 0; h < groups; h++) start[h + 1] += start[h];
  return { start, list: list.slice(0, count) };
}
