import { useEffect, useRef } from "react";
import type { Handle } from "./handle.ts";
import { drop, letGo, move, take } from "./planDeeds.ts";
import { usePlan } from "./planState.ts";
import { offSheet, onSheet, type Place, type SheetLayout } from "./sheetLayout.ts";
import { panned, pinched, type Size, toSheet, zoomedAt } from "./sheetView.ts";

/** A press that goes no farther than this is no drag, px. */
const stillPx = 4;

/** What the pointer does on the sheet, kept between its events. */
interface Grip {
  readonly pointers: Map<number, Place>;
  /** Handle under the first pointer, and where it was pressed. */
  handle: Handle | "station" | null;
  pressed: Place;
  moved: boolean;
  /** From the handle to the pointer, sheet mm: what is taken at its rim does not jump. */
  offset: Place;
}

export interface HandUses {
  readonly layout: SheetLayout | null;
  readonly size: Size;
  readonly find: (id: string) => Handle | null;
  readonly onTap: (handle: Handle | null) => void;
}

/** One finger on a handle drags it, on paper shifts the sheet; two shift and zoom; the wheel zooms about the pointer. */
export function useSheetHand(ref: React.RefObject<SVGSVGElement | null>, uses: HandUses): void {
  const latest = useRef(uses);
  latest.current = uses;
  useEffect(() => {
    const svg = ref.current;
    if (svg === null) return;
    const grip: Grip = { pointers: new Map(), handle: null, pressed: [0, 0], moved: false, offset: [0, 0] };
    let frame = 0;
    let waiting: (() => void) | null = null;
    /** At most once a frame: what came between is overtaken. */
    const soon = (deed: () => void): void => {
      waiting = deed;
      if (frame !== 0) return;
      frame = requestAnimationFrame(() => {
        frame = 0;
        waiting?.();
        waiting = null;
      });
    };
    const flush = (): void => {
      cancelAnimationFrame(frame);
      frame = 0;
      waiting?.();
      waiting = null;
    };
    const at = (event: PointerEvent | WheelEvent): Place => {
      const box = svg.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    };
    const sheetAt = (place: Place): Place => {
      const { layout, size } = latest.current;
      const { view } = usePlan.getState();
      return layout === null || view === null ? [0, 0] : toSheet(view, layout.hand, size, place);
    };
    const down = (event: PointerEvent): void => {
      const { layout, find } = latest.current;
      if (layout === null || (event.pointerType === "mouse" && event.button !== 0)) return;
      if ((event.target as Element).closest("[data-free]") !== null) return;
      const here = at(event);
      grip.pointers.set(event.pointerId, here);
      svg.setPointerCapture(event.pointerId);
      if (grip.pointers.size === 2) {
        // a second finger: the sheet is meant, not the handle
        if (grip.handle !== null && grip.handle !== "station") drop();
        grip.handle = null;
        grip.moved = true;
        return;
      }
      const held = (event.target as Element).closest<SVGElement>("[data-handle]");
      const id = held?.dataset["handle"] ?? null;
      grip.pressed = here;
      grip.moved = false;
      grip.handle = id === null ? null : id === "station" ? "station" : find(id);
      if (held !== null) held.focus({ preventScroll: true });
    };
    const moved = (event: PointerEvent): void => {
      const before = grip.pointers.get(event.pointerId);
      const { layout, size } = latest.current;
      if (before === undefined || layout === null) return;
      const here = at(event);
      if (grip.pointers.size >= 2) {
        const ids = [...grip.pointers.keys()].slice(0, 2);
        const were = ids.map((id) => grip.pointers.get(id)!) as unknown as readonly [Place, Place];
        grip.pointers.set(event.pointerId, here);
        const are = ids.map((id) => grip.pointers.get(id)!) as unknown as readonly [Place, Place];
        usePlan.setState(({ view }) => ({
          view: view === null ? null : pinched(view, layout.hand, size, were, are),
        }));
        return;
      }
      if (!grip.moved) {
        if (Math.hypot(here[0] - grip.pressed[0], here[1] - grip.pressed[1]) < stillPx) return;
        grip.moved = true;
        if (grip.handle !== null && grip.handle !== "station") {
          const from = sheetAt(grip.pressed);
          const handleAt = onSheet(layout, grip.handle.view, grip.handle.at);
          grip.offset = [from[0] - handleAt[0], from[1] - handleAt[1]];
          take(grip.handle);
        }
      }
      if (grip.handle === null) {
        grip.pointers.set(event.pointerId, here);
        usePlan.setState(({ view }) => ({
          view:
            view === null ? null : panned(view, layout.hand, size, here[0] - before[0], here[1] - before[1]),
        }));
        return;
      }
      const { handle } = grip;
      const free = event.altKey;
      soon(() => {
        const [p, q] = sheetAt(here);
        if (handle === "station") {
          const [x] = offSheet(layout, "plan", [p, q]);
          usePlan.setState({ station: Math.round(1000 * x) / 1000 });
          return;
        }
        const to = offSheet(layout, handle.view, [p - grip.offset[0], q - grip.offset[1]]);
        move(to, free);
      });
    };
    const up = (event: PointerEvent): void => {
      if (!grip.pointers.delete(event.pointerId)) return;
      if (grip.pointers.size > 0) return;
      flush();
      if (!grip.moved) latest.current.onTap(grip.handle === "station" ? null : grip.handle);
      else if (grip.handle !== null && grip.handle !== "station") void letGo();
      grip.handle = null;
    };
    const cancel = (event: PointerEvent): void => {
      if (!grip.pointers.delete(event.pointerId)) return;
      if (grip.handle !== null && grip.handle !== "station") drop();
      grip.handle = null;
    };
    const wheel = (event: WheelEvent): void => {
      event.preventDefault();
      const { layout, size } = latest.current;
      if (layout === null) return;
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const factor = Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0015));
      const here = at(event);
      usePlan.setState(({ view }) => ({
        view: view === null ? null : zoomedAt(view, layout.hand, size, here, factor),
      }));
    };
    const key = (event: KeyboardEvent): void => {
      if (event.key !== "Escape" || usePlan.getState().draft?.stage !== "held") return;
      event.stopPropagation();
      waiting = null;
      grip.handle = null;
      drop();
    };
    svg.addEventListener("pointerdown", down);
    svg.addEventListener("pointermove", moved);
    svg.addEventListener("pointerup", up);
    svg.addEventListener("pointercancel", cancel);
    svg.addEventListener("wheel", wheel, { passive: false });
    addEventListener("keydown", key, true);
    return () => {
      svg.removeEventListener("pointerdown", down);
      svg.removeEventListener("pointermove", moved);
      svg.removeEventListener("pointerup", up);
      svg.removeEventListener("pointercancel", cancel);
      svg.removeEventListener("wheel", wheel);
      removeEventListener("keydown", key, true);
      cancelAnimationFrame(frame);
    };
  }, [ref]);
}
