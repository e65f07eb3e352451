// What both factorisations by rows share.

/** Columns factored at a time. */
export const block: usize = 24;

/** Exchanges two rows of so many bytes. */
export function swapRows(a: usize, b: usize, bytes: usize): void {
  for (let o: usize = 0; o < bytes; o += 8) {
    const t = load<f64>(a + o);
    store<f64>(a + o, load<f64>(b + o));
    store<f64>(b + o, t);
  }
}
