// Dense products and complex factors, row by row: engine/numerics/kernels/complexLu.ts says what each does.
// Places come in doubles, are bytes inside.
import { block, swapRows } from "./shared/pivoting";
import { addProduct, addRow, pack } from "./shared/rowProduct";

export { factorReal, solveReal } from "./shared/realLu";

// @ts-ignore: decorator
@inline function axpy2(fr: v128, fi: v128, ur: usize, ui: usize, cr: usize, ci: usize): void {
  const a = v128.load(ur);
  const b = v128.load(ui);
  v128.store(cr, f64x2.sub(v128.load(cr), f64x2.sub(f64x2.mul(fr, a), f64x2.mul(fi, b))));
  v128.store(ci, f64x2.sub(v128.load(ci), f64x2.add(f64x2.mul(fr, b), f64x2.mul(fi, a))));
}

/** Row at (cr, ci) minus f times row at (ur, ui), `length` complex numbers. Bytes. */
function takeRow(fr: f64, fi: f64, ur: usize, ui: usize, cr: usize, ci: usize, length: usize): void {
  const vr = f64x2.splat(fr);
  const vi = f64x2.splat(fi);
  const even = (length & ~1) << 3;
  let o: usize = 0;
  for (; o < even; o += 16) axpy2(vr, vi, ur + o, ui + o, cr + o, ci + o);
  if (length & 1) {
    const a = load<f64>(ur + o);
    const b = load<f64>(ui + o);
    store<f64>(cr + o, load<f64>(cr + o) - (fr * a - fi * b));
    store<f64>(ci + o, load<f64>(ci + o) - (fr * b + fi * a));
  }
}

export function multiplyRows(
  m: usize, k: usize, n: usize,
  aPlace: usize, strideA: usize, bPlace: usize, strideB: usize, cPlace: usize, strideC: usize, scratchPlace: usize,
): void {
  addProduct(
    m, k, n, aPlace << 3, strideA << 3, bPlace << 3, strideB << 3, cPlace << 3, strideC << 3, scratchPlace << 3, 1,
  );
}

// c - a b with everything in bytes. Tiles of two rows by four columns: eight sums, re and im.
function subtractComplex(
  m: usize, k: usize, n: usize,
  ar: usize, ai: usize, sa: usize, br: usize, bi: usize, sb: usize, cr: usize, ci: usize, sc: usize,
  scratch: usize,
): void {
  const half = k << 5;
  for (let j: usize = 0; j < n; j += 4) {
    const columns: usize = n - j < 4 ? n - j : 4;
    pack(br + (j << 3), sb, k, columns, scratch, 1);
    pack(bi + (j << 3), sb, k, columns, scratch + half, 1);
    const end = scratch + half;
    let i: usize = 0;
    for (; i + 2 <= m; i += 2) {
      let p = ar + i * sa;
      let r = ai + i * sa;
      let x00 = f64x2.splat(0);
      let x01 = f64x2.splat(0);
      let y00 = f64x2.splat(0);
      let y01 = f64x2.splat(0);
      let x10 = f64x2.splat(0);
      let x11 = f64x2.splat(0);
      let y10 = f64x2.splat(0);
      let y11 = f64x2.splat(0);
      for (let q = scratch; q < end; q += 32) {
        const u0 = v128.load(q);
        const u1 = v128.load(q, 16);
        const w0 = v128.load(q + half);
        const w1 = v128.load(q + half, 16);
        let f = v128.load_splat<f64>(p);
        x00 = f64x2.sub(x00, f64x2.mul(f, u0));
        x01 = f64x2.sub(x01, f64x2.mul(f, u1));
        y00 = f64x2.sub(y00, f64x2.mul(f, w0));
        y01 = f64x2.sub(y01, f64x2.mul(f, w1));
        f = v128.load_splat<f64>(r);
        x00 = f64x2.add(x00, f64x2.mul(f, w0));
        x01 = f64x2.add(x01, f64x2.mul(f, w1));
        y00 = f64x2.sub(y00, f64x2.mul(f, u0));
        y01 = f64x2.sub(y01, f64x2.mul(f, u1));
        f = v128.load_splat<f64>(p + sa);
        x10 = f64x2.sub(x10, f64x2.mul(f, u0));
        x11 = f64x2.sub(x11, f64x2.mul(f, u1));
        y10 = f64x2.sub(y10, f64x2.mul(f, w0));
        y11 = f64x2.sub(y11, f64x2.mul(f, w1));
        f = v128.load_splat<f64>(r + sa);
        x10 = f64x2.add(x10, f64x2.mul(f, w0));
        x11 = f64x2.add(x11, f64x2.mul(f, w1));
        y10 = f64x2.sub(y10, f64x2.mul(f, u0));
        y11 = f64x2.sub(y11, f64x2.mul(f, u1));
        p += 8;
        r += 8;
      }
      const o = i * sc + (j << 3);
      addRow(cr + o, x00, x01, columns);
      addRow(ci + o, y00, y01, columns);
      addRow(cr + o + sc, x10, x11, columns);
      addRow(ci + o + sc, y10, y11, columns);
    }
    if (i < m) {
      let p = ar + i * sa;
      let r = ai + i * sa;
      let x00 = f64x2.splat(0);
      let x01 = f64x2.splat(0);
      let y00 = f64x2.splat(0);
      let y01 = f64x2.splat(0);
      for (let q = scratch; q < end; q += 32) {
        const u0 = v128.load(q);
        const u1 = v128.load(q, 16);
        const w0 = v128.load(q + half);
        const w1 = v128.load(q + half, 16);
        let f = v128.load_splat<f64>(p);
        x00 = f64x2.sub(x00, f64x2.mul(f, u0));
        x01 = f64x2.sub(x01, f64x2.mul(f, u1));
        y00 = f64x2.sub(y00, f64x2.mul(f, w0));
        y01 = f64x2.sub(y01, f64x2.mul(f, w1));
        f = v128.load_splat<f64>(r);
        x00 = f64x2.add(x00, f64x2.mul(f, w0));
        x01 = f64x2.add(x01, f64x2.mul(f, w1));
        y00 = f64x2.sub(y00, f64x2.mul(f, u0));
        y01 = f64x2.sub(y01, f64x2.mul(f, u1));
        p += 8;
        r += 8;
      }
      const o = i * sc + (j << 3);
      addRow(cr + o, x00, x01, columns);
      addRow(ci + o, y00, y01, columns);
    }
  }
}

export function subtractComplexRows(
  m: usize, k: usize, n: usize,
  aRe: usize, aIm: usize, strideA: usize, bRe: usize, bIm: usize, strideB: usize, cRe: usize, cIm: usize,
  strideC: usize, scratch: usize,
): void {
  subtractComplex(
    m, k, n, aRe << 3, aIm << 3, strideA << 3, bRe << 3, bIm << 3, strideB << 3, cRe << 3, cIm << 3, strideC << 3,
    scratch << 3,
  );
}

export function factorComplex(
  rePlace: usize, imPlace: usize, n: usize, least: f64, pivotPlace: usize, scratchPlace: usize,
): i32 {
  const re = rePlace << 3;
  const im = imPlace << 3;
  const pivot = pivotPlace << 2;
  const row = n << 3;
  for (let from: usize = 0; from < n; from += block) {
    const to = from + block < n ? from + block : n;
    for (let k = from; k < to; k++) {
      let best = k;
      let size: f64 = 0;
      for (let i = k; i < n; i++) {
        const o = i * row + (k << 3);
        const a = load<f64>(re + o);
        const b = load<f64>(im + o);
        const s = a * a + b * b;
        if (s > size) {
          size = s;
          best = i;
        }
      }
      if (!(size > least * least)) return <i32>k + 1;
      store<i32>(pivot + (k << 2), <i32>best);
      if (best != k) {
        swapRows(re + best * row, re + k * row, row);
        swapRows(im + best * row, im + k * row, row);
      }
      const d = k * row + (k << 3);
      const pr = load<f64>(re + d) / size;
      const pi = -load<f64>(im + d) / size;
      for (let i = k + 1; i < n; i++) {
        const o = i * row + (k << 3);
        const a = load<f64>(re + o);
        const b = load<f64>(im + o);
        const fr = a * pr - b * pi;
        const fi = a * pi + b * pr;
        store<f64>(re + o, fr);
        store<f64>(im + o, fi);
        takeRow(fr, fi, re + d + 8, im + d + 8, re + o + 8, im + o + 8, to - k - 1);
      }
    }
    if (to == n) break;
    // Rows of U right of the block, then what is left.
    const right = to << 3;
    for (let k = from + 1; k < to; k++) {
      for (let l = from; l < k; l++) {
        const o = k * row + (l << 3);
        takeRow(
          load<f64>(re + o), load<f64>(im + o), re + l * row + right, im + l * row + right, re + k * row + right,
          im + k * row + right, n - to,
        );
      }
    }
    const under = to * row;
    subtractComplex(
      n - to, to - from, n - to, re + under + (from << 3), im + under + (from << 3), row, re + from * row + right,
      im + from * row + right, row, re + under + right, im + under + right, row, scratchPlace << 3,
    );
  }
  return 0;
}

export function solveComplex(
  rePlace: usize, imPlace: usize, n: usize, pivotPlace: usize, bRePlace: usize, bImPlace: usize, columns: usize,
  scratchPlace: usize,
): void {
  const re = rePlace << 3;
  const im = imPlace << 3;
  const br = bRePlace << 3;
  const bi = bImPlace << 3;
  const scratch = scratchPlace << 3;
  const row = n << 3;
  const width = columns << 3;
  for (let i: usize = 0; i < n; i++) {
    const p = <usize>load<i32>((pivotPlace + i) << 2);
    if (p == i) continue;
    swapRows(br + p * width, br + i * width, width);
    swapRows(bi + p * width, bi + i * width, width);
  }
  for (let from: usize = 0; from < n; from += block) {
    const to = from + block < n ? from + block : n;
    const at = from * row;
    subtractComplex(to - from, from, columns, re + at, im + at, row, br, bi, width, br + from * width,
      bi + from * width, width, scratch);
    for (let i = from + 1; i < to; i++) {
      for (let l = from; l < i; l++) {
        const o = i * row + (l << 3);
        takeRow(load<f64>(re + o), load<f64>(im + o), br + l * width, bi + l * width, br + i * width, bi + i * width,
          columns);
      }
    }
  }
  let end = n;
  while (end > 0) {
    const from = ((end - 1) / block) * block;
    const at = from * row + (end << 3);
    subtractComplex(end - from, n - end, columns, re + at, im + at, row, br + end * width, bi + end * width, width,
      br + from * width, bi + from * width, width, scratch);
    for (let i = end; i-- > from; ) {
      for (let l = i + 1; l < end; l++) {
        const o = i * row + (l << 3);
        takeRow(load<f64>(re + o), load<f64>(im + o), br + l * width, bi + l * width, br + i * width, bi + i * width,
          columns);
      }
      const o = i * row + (i << 3);
      const dr = load<f64>(re + o);
      const di = load<f64>(im + o);
      const size = dr * dr + di * di;
      for (let j: usize = 0; j < width; j += 8) {
        const x = br + i * width + j;
        const y = bi + i * width + j;
        const u = load<f64>(x);
        const v = load<f64>(y);
        store<f64>(x, (u * dr + v * di) / size);
        store<f64>(y, (v * dr - u * di) / size);
      }
    }
    end = from;
  }
}
