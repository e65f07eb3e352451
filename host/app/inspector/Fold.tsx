import type { ReactNode } from "react";
import { Sign } from "../kit/index.ts";
import { fieldId, setOpen, useFieldFocus } from "./focusField.ts";

/** A part that opens and closes, under its name; `beside` tells what is in it. */
export function Fold({
  path,
  name,
  beside,
  startsOpen = false,
  children,
}: {
  readonly path: string;
  readonly name: string;
  readonly beside?: string;
  readonly startsOpen?: boolean;
  readonly children: ReactNode;
}) {
  const open = useFieldFocus((focus) => focus.open[path]) ?? startsOpen;
  return (
    <div className={`fold${open ? " open" : ""}`}>
      <button
        type="button"
        className="fold-head"
        id={fieldId(path)}
        aria-expanded={open}
        onClick={() => setOpen(path, !open)}
      >
        <Sign name={open ? "down" : "right"} />
        <span className="fold-name">{name}</span>
        {beside === undefined ? null : <span className="fold-beside">{beside}</span>}
      </button>
      {open ? <div className="fold-body">{children}</div> : null}
    </div>
  );
}
