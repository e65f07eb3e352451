/** One step from a value to a part of it: a key of a group, or an index of a list. */
export type Step = string | number;

/** "top.braces[2].height" as its steps. Throws on a path that issues would not write (our own mistake). */
export function stepsOf(path: string): readonly Step[] {
  if (path === "") return [];
  const steps: Step[] = [];
  const pattern = /(?:^|\.)([^.[\]]+)|\[(\d+)\]/y;
  while (pattern.lastIndex < path.length) {
    const at = pattern.lastIndex;
    const match = pattern.exec(path);
    if (match === null)
      throw new Error(`"${path}" is no path: it cannot be read from character ${at + 1} on`);
    steps.push(match[1] ?? Number(match[2]));
  }
  return steps;
}

/** The steps as issues write them. */
export function pathOf(steps: readonly Step[]): string {
  return steps.reduce<string>(
    (text, step) => (typeof step === "number" ? `${text}[${step}]` : text === "" ? step : `${text}.${step}`),
    "",
  );
}
