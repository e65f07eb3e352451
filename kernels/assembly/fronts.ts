// Dense work on the fronts of a supernodal factor L D L'. Layouts and twin: engine/numerics/kernels/fronts.ts.
// Arguments are places in doubles (<< 3 for bytes) or, for row lists, in 32-bit integers (<< 2).
import { freshTile, tile } from "./shared/tile";

/** Factors the 4 x 4 diagonal tile at c; pivots go to d. Returns the failing column or -1. */
function factorTile(c: usize, d: usize, floors: usize, definite: bool): i32 {
  for (let j: usize = 0; j < 4; j++) {
    const pivot = load<f64>(c + (((j << 2) + j) << 3));
    const size = definite ? pivot : Math.abs(pivot);
    if (!(size > load<f64>(floors + (j << 3)))) return <i32>j;
    store<f64>(d + (j << 3), pivot);
    const inverse = 1 / pivot;
    for (let m = j + 1; m < 4; m++) {
      const y = load<f64>(c + (((j << 2) + m) << 3)) * inverse;
      for (let i = m; i < 4; i++) {
        const at = c + (((m << 2) + i) << 3);
        store<f64>(at, load<f64>(at) - y * load<f64>(c + (((j << 2) + i) << 3)));
      }
    }
    for (let i = j + 1; i < 4; i++) {
      const at = c + (((j << 2) + i) << 3);
      store<f64>(at, load<f64>(at) * inverse);
    }
    store<f64>(c + (((j << 2) + j) << 3), 1);
    for (let i: usize = 0; i < j; i++) store<f64>(c + (((j << 2) + i) << 3), 0);
  }
  return -1;
}

/** tile, then the tile times the inverse of (4 x 4 diagonal tile at l, transposed, and its pivots). */
function panelTile(a: usize, b: usize, depth: i32, c: usize, l: usize, inverse: usize): void {
  const end = a + (<usize>depth << 5);
  let c00 = v128.load(c, 0);
  let c01 = v128.load(c, 16);
  let c10 = v128.load(c, 32);
  let c11 = v128.load(c, 48);
  let c20 = v128.load(c, 64);
  let c21 = v128.load(c, 80);
  let c30 = v128.load(c, 96);
  let c31 = v128.load(c, 112);
  while (a < end) {
    const a0 = v128.load(a, 0);
    const a1 = v128.load(a, 16);
    let y = v128.load_splat<f64>(b, 0);
    c00 = f64x2.sub(c00, f64x2.mul(a0, y));
    c01 = f64x2.sub(c01, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 8);
    c10 = f64x2.sub(c10, f64x2.mul(a0, y));
    c11 = f64x2.sub(c11, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 16);
    c20 = f64x2.sub(c20, f64x2.mul(a0, y));
    c21 = f64x2.sub(c21, f64x2.mul(a1, y));
    y = v128.load_splat<f64>(b, 24);
    c30 = f64x2.sub(c30, f64x2.mul(a0, y));
    c31 = f64x2.sub(c31, f64x2.mul(a1, y));
    a += 32;
    b += 32;
  }
  let u = v128.load_splat<f64>(l, 8);
  c10 = f64x2.sub(c10, f64x2.mul(c00, u));
  c11 = f64x2.sub(c11, f64x2.mul(c01, u));
  u = v128.load_splat<f64>(l, 16);
  c20 = f64x2.sub(c20, f64x2.mul(c00, u));
  c21 = f64x2.sub(c21, f64x2.mul(c01, u));
  u = v128.load_splat<f64>(l, 48);
  c20 = f64x2.sub(c20, f64x2.mul(c10, u));
  c21 = f64x2.sub(c21, f64x2.mul(c11, u));
  u = v128.load_splat<f64>(l, 24);
  c30 = f64x2.sub(c30, f64x2.mul(c00, u));
  c31 = f64x2.sub(c31, f64x2.mul(c01, u));
  u = v128.load_splat<f64>(l, 56);
  c30 = f64x2.sub(c30, f64x2.mul(c10, u));
  c31 = f64x2.sub(c31, f64x2.mul(c11, u));
  u = v128.load_splat<f64>(l, 88);
  c30 = f64x2.sub(c30, f64x2.mul(c20, u));
  c31 = f64x2.sub(c31, f64x2.mul(c21, u));
  u = v128.load_splat<f64>(inverse, 0);
  v128.store(c, f64x2.mul(c00, u), 0);
  v128.store(c, f64x2.mul(c01, u), 16);
  u = v128.load_splat<f64>(inverse, 8);
  v128.store(c, f64x2.mul(c10, u), 32);
  v128.store(c, f64x2.mul(c11, u), 48);
  u = v128.load_splat<f64>(inverse, 16);
  v128.store(c, f64x2.mul(c20, u), 64);
  v128.store(c, f64x2.mul(c21, u), 80);
  u = v128.load_splat<f64>(inverse, 24);
  v128.store(c, f64x2.mul(c30, u), 96);
  v128.store(c, f64x2.mul(c31, u), 112);
}

/** out := strip with each column times its pivot. */
function scale(strip: usize, d: usize, columns: i32, out: usize): void {
  const end = strip + (<usize>columns << 5);
  while (strip < end) {
    const u = v128.load_splat<f64>(d);
    v128.store(out, f64x2.mul(v128.load(strip, 0), u), 0);
    v128.store(out, f64x2.mul(v128.load(strip, 16), u), 16);
    strip += 32;
    out += 32;
    d += 8;
  }
}

/**
 * One column of tiles of a front: its diagonal tile factored, those below it solved. Of the columns before it only those
 * from `from` on are taken off here.
 */
function tileColumn(
  l: usize,
  stripSize: usize,
  strips: i32,
  j: i32,
  from: i32,
  d: usize,
  floors: usize,
  scratch: usize,
  definite: bool,
): i32 {
  const depth = (j << 2) - from;
  const before = <usize>from << 5;
  const own = l + <usize>j * stripSize;
  const c = own + (<usize>j << 7);
  scale(own + before, d + (<usize>from << 3), depth, scratch);
  tile(own + before, scratch, depth, c);
  const dJ = d + (<usize>j << 5);
  const bad = factorTile(c, dJ, floors + (<usize>j << 5), definite);
  if (bad >= 0) return (j << 2) + bad;
  const inverse = scratch + (<usize>depth << 5);
  for (let k: usize = 0; k < 32; k += 8) store<f64>(inverse + k, 1 / load<f64>(dJ + k));
  let a = own + stripSize;
  for (let i = j + 1; i < strips; i++, a += stripSize)
    panelTile(a + before, scratch, depth, a + (<usize>j << 7), c, inverse);
  return -1;
}

/** Columns are worked off so many at a time, and so many strips share what is in the fastest cache. */
const together: i32 = 64;
const group: i32 = 4;

// @ts-ignore: decorator
@inline
function least(a: i32, b: i32): i32 {
  return a < b ? a : b;
}

/** Takes the columns from .. from + depth - 1 off the tile columns j .. end - 1 of the same front. */
function trailing(l: usize, stripSize: usize, strips: i32, j: i32, end: i32, from: i32, depth: i32, d: usize, scratch: usize): void {
  const before = <usize>from << 5;
  const step = <usize>depth << 5;
  for (let t = j; t < end; t++)
    scale(l + <usize>t * stripSize + before, d + (<usize>from << 3), depth, scratch + <usize>(t - j) * step);
  let a = l + <usize>j * stripSize;
  for (let i = j; i < strips; i++, a += stripSize) {
    const last = least(end, i + 1);
    let s = scratch;
    for (let t = j; t < last; t++, s += step) tile(a + before, s, depth, a + (<usize>t << 7));
  }
}

export function factor(
  l: usize,
  w: i32,
  strips: i32,
  d: usize,
  floors: usize,
  scratch: usize,
  definite: bool,
): i32 {
  const stripSize = <usize>w << 5;
  for (let from = 0; from < w; from += together) {
    const end = least(from + together, w);
    for (let j = from >> 2; j < end >> 2; j++) {
      const bad = tileColumn(l << 3, stripSize, strips, j, from, d << 3, floors << 3, scratch << 3, definite);
      if (bad >= 0) return bad;
    }
    for (let j = end >> 2; j < w >> 2; j += group)
      trailing(l << 3, stripSize, strips, j, least(j + group, w >> 2), from, end - from, d << 3, scratch << 3);
  }
  return -1;
}

/** Takes `depth` columns off the columns of tiles j .. end - 1 of the update matrix. */
function updateColumns(panel: usize, stripSize: usize, strips: i32, j: i32, end: i32, depth: i32, d: usize, u: usize, scratch: usize, fresh: bool): void {
  const step = <usize>depth << 5;
  for (let t = j; t < end; t++)
    scale(panel + <usize>t * stripSize, d, depth, scratch + <usize>(t - j) * step);
  let a = panel + <usize>j * stripSize;
  let c = u + ((<usize>j * <usize>(j + 1)) << 6) + (<usize>j << 7);
  for (let i = j; i < strips; i++, a += stripSize) {
    const last = least(end, i + 1) - j;
    let s = scratch;
    for (let t = 0; t < last; t++, s += step) {
      if (fresh) freshTile(a, s, depth, c + (<usize>t << 7));
      else tile(a, s, depth, c + (<usize>t << 7));
    }
    c += <usize>(i + 1) << 7;
  }
}

export function update(panel: usize, w: i32, strips: i32, d: usize, u: usize, scratch: usize, fresh: bool): void {
  const stripSize = <usize>w << 5;
  for (let from = 0; from < w; from += 2 * together) {
    const depth = least(2 * together, w - from);
    for (let j = 0; j < strips; j += group)
      updateColumns(
        (panel << 3) + (<usize>from << 5),
        stripSize,
        strips,
        j,
        least(j + group, strips),
        depth,
        (d + from) << 3,
        u << 3,
        scratch << 3,
        fresh && from == 0,
      );
  }
}

/** Entries of one strip of the child, up to column `end`: rows i .. i+1 of the child together where they stay together. */
export function extendAdd(child: usize, rows: i32, target: usize, l: usize, w: i32, u: usize): void {
  const t = target << 2;
  for (let i = 0; i < rows; i += 2) {
    const strip = i >> 2;
    const from = (child << 3) + ((<usize>strip * <usize>(strip + 1)) << 6) + ((<usize>i & 3) << 3);
    const r0 = load<i32>(t + (<usize>i << 2));
    const two = i + 1 < rows;
    const r1 = two ? load<i32>(t + (<usize>i << 2), 4) : -2;
    const both = (r0 & 1) == 0 && r1 == r0 + 1;
    const to0 = rowAt(r0, l, w, u);
    if (both) {
      // Column i + 1 of row i lies above the diagonal: what is there is the mirror image, added above the diagonal.
      pairRows(from, i + 2, t, to0, r0, r1, l, w, u);
    } else {
      singleRow(from, i + 1, t, r0, w, l, u);
      if (two) singleRow(from + 8, i + 2, t, r1, w, l, u);
    }
  }
}

/** Pointer to column 0 of a front's row, in its panel or, counted from column w, in its update matrix. */
// @ts-ignore: decorator
@inline
function rowAt(r: i32, l: usize, w: i32, u: usize): usize {
  return (l << 3) + <usize>(r >> 2) * (<usize>w << 5) + ((<usize>r & 3) << 3);
}

// @ts-ignore: decorator
@inline
function updateRowAt(r: i32, w: i32, u: usize): usize {
  const row = r - w;
  const strip = row >> 2;
  return (u << 3) + ((<usize>strip * <usize>(strip + 1)) << 6) + ((<usize>row & 3) << 3);
}

function singleRow(from: usize, columns: i32, t: usize, r: i32, w: i32, l: usize, u: usize): void {
  const end = t + (<usize>columns << 2);
  const panelRow = rowAt(r, l, w, u);
  while (t < end) {
    const column = load<i32>(t);
    if (column >= w) break;
    const at = panelRow + (<usize>column << 5);
    store<f64>(at, load<f64>(at) + load<f64>(from));
    from += 32;
    t += 4;
  }
  if (t >= end) return;
  const row = updateRowAt(r, w, u);
  while (t < end) {
    const at = row + (<usize>(load<i32>(t) - w) << 5);
    store<f64>(at, load<f64>(at) + load<f64>(from));
    from += 32;
    t += 4;
  }
}

function pairRows(from: usize, columns: i32, t: usize, panelRow: usize, r0: i32, r1: i32, l: usize, w: i32, u: usize): void {
  const end = t + (<usize>columns << 2);
  while (t < end) {
    const column = load<i32>(t);
    if (column >= w) break;
    const at = panelRow + (<usize>column << 5);
    v128.store(at, f64x2.add(v128.load(at), v128.load(from)));
    from += 32;
    t += 4;
  }
  if (t >= end) return;
  const row = updateRowAt(r0, w, u);
  while (t < end) {
    const at = row + (<usize>(load<i32>(t) - w) << 5);
    v128.store(at, f64x2.add(v128.load(at), v128.load(from)));
    from += 32;
    t += 4;
  }
}
