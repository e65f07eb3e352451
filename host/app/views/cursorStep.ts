/** Where a key takes the cursor; null: no key of ours. */
export function cursorStep(
  pressed: string,
  wide: boolean,
  at: number,
  modes: readonly { readonly frequencyHz: number }[],
  low: number,
  high: number,
): number | null {
  const within = (f: number) => Math.min(high, Math.max(low, f));
  const semitones = wide ? 1 : 0.25;
  if (pressed === "ArrowRight" || pressed === "ArrowUp") return within(at * 2 ** (semitones / 12));
  if (pressed === "ArrowLeft" || pressed === "ArrowDown") return within(at * 2 ** (-semitones / 12));
  if (pressed === "Home") return low;
  if (pressed === "End") return high;
  const near = 1e-6 * at;
  const inRange = modes.map((m) => m.frequencyHz).filter((f) => f >= low && f <= high);
  if (pressed === "PageUp") return inRange.find((f) => f > at + near) ?? at;
  if (pressed === "PageDown") return inRange.filter((f) => f < at - near).at(-1) ?? at;
  return null;
}
