import type { Refusal } from "#host/api";

/** Why the store did not do what was asked, as the page is told it. */
export interface Trouble extends Refusal {
  readonly code:
    | "absent"
    | "document"
    | "id-used"
    | "nothing-to-undo"
    | "nothing-to-redo"
    | "disk-full"
    | "disk"
    | "archive"
    | "too-large"
    | "broken-off";
}

/** What the store answers: what was asked for, durable, or why not. */
export type Kept<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly trouble: Trouble };

export const kept = <T>(value: T): Kept<T> => ({ ok: true, value });

export const troubled = (
  code: Trouble["code"],
  message: string,
  rest: Pick<Trouble, "issues"> = {},
): { readonly ok: false; readonly trouble: Trouble } => ({ ok: false, trouble: { code, message, ...rest } });
