import { create } from "zustand";

interface FieldFocus {
  /** Field that is asked for, as issues name it; null: none yet. */
  readonly path: string | null;
  /** Counts the askings, so that the same field may be asked for again. */
  readonly asked: number;
  /** The last asking that was followed. */
  readonly followed: number;
  /** Places that stand open, by path; what is not named stands as it does by itself. */
  readonly open: { readonly [path: string]: boolean };
}

/** Which field is asked for: the shell shows the inspector when `asked` grows. */
export const useFieldFocus = create<FieldFocus>()(() => ({ path: null, asked: 0, followed: 0, open: {} }));

/** Shows a field of the document in the inspector and puts the cursor into it. A group or an entry is opened. */
export function focusField(path: string): void {
  useFieldFocus.setState(({ asked, open }) => {
    const parts = path.split(/(?=[.[])/);
    const round = parts.map((_, i) => parts.slice(0, i + 1).join(""));
    return { path, asked: asked + 1, open: { ...open, ...Object.fromEntries(round.map((p) => [p, true])) } };
  });
}

export function setOpen(path: string, open: boolean): void {
  useFieldFocus.setState((focus) => ({ open: { ...focus.open, [path]: open } }));
}

/** Id of the element that a field, a group or an entry is shown in. */
export const fieldId = (path: string): string => `field-${path.replace(/[^A-Za-z0-9]/g, "-")}`;
