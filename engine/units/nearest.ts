/**
 * Number of single-letter edits (insert, delete, replace, swap of neighbours) that turn one word into another:
 * Damerau-Levenshtein distance, restricted form. Letters of either case count as half an edit apart.
 */
export function editDistance(a: string, b: string): number {
  const width = b.length + 1;
  const table = new Float64Array((a.length + 1) * width);
  for (let i = 0; i <= a.length; i++) table[i * width] = i;
  for (let j = 0; j <= b.length; j++) table[j] = j;
  const at = (i: number, j: number): number => table[i * width + j] ?? 0;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      const replace = same ? 0 : a[i - 1]?.toLowerCase() === b[j - 1]?.toLowerCase() ? 0.5 : 1;
      let best = Math.min(at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + replace);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        best = Math.min(best, at(i - 2, j - 2) + 1);
      table[i * width + j] = best;
    }
  }
  return at(a.length, b.length);
}

/** The known word nearest to a found one, or null when none is near enough to be worth naming. */
export function nearestWord(found: string, known: Iterable<string>): string | null {
  const word = found.slice(0, 64);
  let best: string | null = null;
  let least = Math.max(1, Math.ceil(word.length / 2)) + 0.25;
  for (const candidate of known) {
    const distance = editDistance(word, candidate);
    if (distance < least) {
      least = distance;
      best = candidate;
    }
  }
  return best;
}
