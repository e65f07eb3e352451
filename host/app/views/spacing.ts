/**
 * Places that keep at least `room` apart, each as near to where it wants to be as its neighbours let it: wishes in ascending
 * order in, places in the same order out. Crowded runs spread evenly about their own middle.
 */
export function apart(wishes: readonly number[], room: number): readonly number[] {
  // runs of places that touch; each keeps the mean of what its members wish
  const runs: { count: number; middle: number }[] = [];
  wishes.forEach((wish) => {
    runs.push({ count: 1, middle: wish });
    for (;;) {
      const [before, last] = [runs.at(-2), runs.at(-1)!];
      if (before === undefined) break;
      if (last.middle - before.middle >= ((before.count + last.count) / 2) * room) break;
      runs.splice(-2, 2, {
        count: before.count + last.count,
        middle: (before.middle * before.count + last.middle * last.count) / (before.count + last.count),
      });
    }
  });
  return runs.flatMap(({ count, middle }) =>
    Array.from({ length: count }, (_, k) => middle + (k - (count - 1) / 2) * room),
  );
}
