/**
 * A repeatable sequence of numbers in [0, 1) with 53 random bits each: the "mulberry32" generator, two draws a number.
 * Good enough for start vectors, shuffles and test data; not for statistics of many millions, never for secrets.
 */
export function seededRandom(seed: number): () => number {
  let state = seed | 0;
  const draw = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return (t ^ (t >>> 14)) >>> 0;
  };
  return () => ((draw() >>> 5) * 67108864 + (draw() >>> 6)) / 9007199254740992;
}
