import { done, luSolve, type Outcome } from "#engine/numerics";
import type { StructureParts } from "./structureParts.ts";
import { crownLever, stringPull } from "./structureRows.ts";
import { timesTransposed } from "./timesTransposed.ts";

/**
 * Compliance at the crowns that the structure's listed modes lack (3C x 3C, m/N). With C the elastic flexibility between the
 * points, Cm the listed modes' part of it and S(.) what strings of stiffness k make of a flexibility,
 *   residual = T [ S(C) - S(Cm) ] T',   S(A) = A - A E' (1/k + E A E')^-1 E A
 * E: elongations of the strings, T: crowns over their points.
 */
export function structureResidual(parts: StructureParts): Outcome<Float64Array> {
  const { body, crowns, strings } = parts;
  const p = body.rigidCount + body.count;
  const size = body.points.length / p;
  const c = crowns.length;
  const wide = strings ? 4 * c : 3 * c;
  // Rows: crown directions, then elongations.
  const forms = new Float64Array(wide * size);
  const lever = crownLever(parts);
  for (let d = 0; d < 3 * c; d++)
    forms.set(lever.subarray(6 * d, 6 * d + 6), d * size + 6 * Math.floor(d / 3));
  strings?.forEach((_, s) => {
    for (const [k, f] of stringPull(parts, s)) forms[(3 * c + s) * size + k] += f;
  });
  const missing = timesTransposed(
    timesTransposed(forms, body.pointResidual, wide, size, size),
    forms,
    wide,
    wide,
    size,
  );
  if (!strings) return done(missing);
  const still = timesTransposed(forms, body.points, wide, p, size); // wide x p
  const modal = modalFlexibility(parts, still, wide, p);
  if (!modal.ok) return modal;
  const whole = modal.value.map((v, k) => v + missing[k]);
  const a = withStrings(whole, strings, wide);
  if (!a.ok) return a;
  const b = withStrings(modal.value, strings, wide);
  if (!b.ok) return b;
  const n = 3 * c;
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    // Symmetric by reciprocity; rounding is shared between both halves.
    for (let j = 0; j < n; j++)
      out[i * n + j] =
        0.5 * (a.value[i * n + j] - b.value[i * n + j] + a.value[j * n + i] - b.value[j * n + i]);
  }
  return done(out);
}

/** F K^-1 F' over the elastic coordinates. */
function modalFlexibility(
  parts: StructureParts,
  rows: Float64Array,
  wide: number,
  p: number,
): Outcome<Float64Array> {
  const { body, matrices } = parts;
  const { rigidCount: r, count } = body;
  const elastic = new Float64Array(wide * count);
  for (let d = 0; d < wide; d++) elastic.set(rows.subarray(d * p + r, (d + 1) * p), d * count);
  if (!matrices) {
    const scaled = elastic.map((v, k) => v / body.omega[k % count] ** 2);
    return done(timesTransposed(scaled, elastic, wide, wide, count));
  }
  const k = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) k[i * count + j] = matrices.stiffness[(r + i) * p + r + j];
  const solved = luSolve(k, count, elastic, wide);
  if (!solved.ok) return solved;
  return done(timesTransposed(solved.value, elastic, wide, wide, count));
}

/** S(A) over the first 3C rows, (3C)^2; A: wide x wide. */
function withStrings(
  a: Float64Array,
  strings: NonNullable<StructureParts["strings"]>,
  wide: number,
): Outcome<Float64Array> {
  const c = strings.length;
  const n = wide - c;
  const left = new Float64Array(c * c);
  const right = new Float64Array(c * n);
  // Strings of no stiffness would divide by 0: (1 + k E A E') x = k E A instead.
  for (let i = 0; i < c; i++) {
    const k = strings[i].stiffness;
    for (let j = 0; j < c; j++) left[i * c + j] = (i === j ? 1 : 0) + k * a[(n + i) * wide + n + j];
    for (let j = 0; j < n; j++) right[j * c + i] = k * a[(n + i) * wide + j];
  }
  const solved = luSolve(left, c, right, n); // columns
  if (!solved.ok) return solved;
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let sum = a[i * wide + j];
      for (let s = 0; s < c; s++) sum -= a[i * wide + n + s] * solved.value[j * c + s];
      out[i * n + j] = sum;
    }
  }
  return done(out);
}
