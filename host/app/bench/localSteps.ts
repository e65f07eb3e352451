/** A change made or undone in this page, with the texts on both sides of it. */
interface LocalStep {
  readonly before: string;
  readonly after: string;
  readonly cause: string;
}

/**
 * What this page itself knows of the history round the document in hand, so that undo and redo show their text at once,
 * also while the server is away. The server's history is the longer one: beyond these steps only it knows the text.
 */
export interface LocalSteps {
  readonly steps: readonly LocalStep[];
  /** How many of them stand; the rest is undone. */
  readonly standing: number;
}

export const noSteps: LocalSteps = { steps: [], standing: 0 };

export function withEdit(local: LocalSteps, step: LocalStep): LocalSteps {
  const steps = [...local.steps.slice(0, local.standing), step];
  return { steps, standing: steps.length };
}

export function undoKnown(local: LocalSteps): LocalStep | null {
  return local.steps[local.standing - 1] ?? null;
}

export function redoKnown(local: LocalSteps): LocalStep | null {
  return local.steps[local.standing] ?? null;
}

export function stepped(local: LocalSteps, by: -1 | 1): LocalSteps {
  return { ...local, standing: local.standing + by };
}

/** The server told what an undo or a redo brought back that this page did not know. */
export function learned(local: LocalSteps, kind: "undo" | "redo", step: LocalStep): LocalSteps {
  return kind === "undo"
    ? { steps: [step, ...local.steps], standing: local.standing }
    : { steps: [...local.steps, step], standing: local.standing + 1 };
}
