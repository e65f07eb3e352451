import { useEffect } from "react";
import { benchDeeds } from "../bench/index.ts";
import { goTo } from "./place.ts";
import { stages } from "./stages.ts";

/** Keys of the whole page: undo and redo, and the stages by their number. A field keeps its own undo. */
export function useKeys(): void {
  useEffect(() => {
    const press = (e: KeyboardEvent) => {
      if (e.defaultPrevented) return;
      const writing =
        e.target instanceof Element && e.target.closest("input, textarea, [contenteditable]") !== null;
      if ((e.ctrlKey || e.metaKey) && !e.altKey && e.key.toLowerCase() === "z" && !writing) {
        e.preventDefault();
        void (e.shiftKey ? benchDeeds.redo() : benchDeeds.undo());
      }
      const stage = /^Digit[1-9]$/.test(e.code) ? stages[Number(e.code.slice(5)) - 1] : undefined;
      if (e.altKey && !e.ctrlKey && !e.metaKey && stage !== undefined) {
        e.preventDefault();
        goTo({ stage: stage.id });
      }
    };
    addEventListener("keydown", press);
    return () => removeEventListener("keydown", press);
  }, []);
}
