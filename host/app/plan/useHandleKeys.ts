import { useCallback, useRef } from "react";
import type { Point } from "#engine/geometry";
import { useBench } from "../bench/index.ts";
import type { Handle } from "./handle.ts";
import { drop, letGo, nudge } from "./planDeeds.ts";
import { usePlan } from "./planState.ts";
import { onSheet, type Place, type SheetLayout } from "./sheetLayout.ts";
import { type SheetView, toScreen } from "./sheetView.ts";
import { stepOf } from "./typed.ts";

/** After so long without another key a move by the keys is one edit, ms. */
const keyRestMs = 700;

/** Arrow keys move the handle as the screen lies; Enter opens its figures. */
export function useHandleKeys(layout: SheetLayout, view: SheetView | null) {
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const latest = useRef({ layout, view });
  latest.current = { layout, view };
  return useCallback((handle: Handle, event: React.KeyboardEvent) => {
    const ways: { readonly [key: string]: Place } = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    };
    const way = ways[event.key];
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      clearTimeout(timer.current);
      void letGo().then(() => usePlan.setState({ entry: handle.id }));
      return;
    }
    if (event.key === "Escape") {
      clearTimeout(timer.current);
      drop();
      return;
    }
    const now = latest.current;
    if (way === undefined || now.view === null) return;
    event.preventDefault();
    const { key, long } = stepOf(useBench.getState().preferences.units, handle.fine);
    const step = event.shiftKey ? long : key;
    nudge(handle, screenStep(now.view, now.layout, handle, way, step));
    clearTimeout(timer.current);
    timer.current = setTimeout(() => void letGo(), keyRestMs);
  }, []);
}

/** A step of the screen in the handle's own coordinates, along whichever of them lies nearest to it. */
function screenStep(view: SheetView, layout: SheetLayout, handle: Handle, way: Place, step: number): Point {
  if (handle.view === "profile") return [way[0] * step, -way[1] * step];
  const size = { width: 0, height: 0 };
  const at = (p: Point): Place => toScreen(view, layout.hand, size, onSheet(layout, handle.view, p));
  const origin = at([0, 0]);
  const along = ([0, 1] as const).map((axis) => {
    const [x, y] = at(axis === 0 ? [0.01, 0] : [0, 0.01]);
    const [dx, dy] = [x - origin[0], y - origin[1]];
    return Math.round((dx * way[0] + dy * way[1]) / Math.hypot(dx, dy));
  });
  return [along[0]! * step, along[1]! * step];
}
