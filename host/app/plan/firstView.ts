import { boxAround, type SheetLayout } from "./sheetLayout.ts";
import { betterTurn, fitted, type SheetView, type Size } from "./sheetView.ts";

/** What of the sheet fills the window. */
export type Showing = "plan" | "side" | "section" | "sheet";

/** Paper kept free round the plan for handles and comb, px. */
const aroundPx = 52;

export function viewOf(layout: SheetLayout, size: Size, showing: Showing): SheetView {
  const { plan, side, across } = layout.boxes;
  if (showing === "sheet") {
    const box = boxAround([plan, side, across]);
    return fitted(box, size, betterTurn(box, size));
  }
  if (showing === "section") return fitted(across, size, "upright", aroundPx);
  const { left, right } = layout.body;
  const box = showing === "plan" ? layout.body : { ...side, left, right };
  return fitted(box, size, showing === "side" ? "long" : betterTurn(box, size), aroundPx);
}
