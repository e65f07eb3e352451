import { useEffect, useMemo, useRef } from "react";
import type { InstrumentSketch } from "#engine/pipeline";
import { useBench } from "../bench/index.ts";
import { HandleMark } from "./HandleMarks.tsx";
import type { Handle } from "./handle.ts";
import { drop, letGo, move, take } from "./planDeeds.ts";
import { usePlan } from "./planState.ts";
import { profileHandles } from "./profileHandles.ts";
import type { Place } from "./sheetLayout.ts";
import type { Size } from "./sheetView.ts";
import { shownLength } from "./typed.ts";
import { handleWords } from "./words.ts";

/** Paper round the brace, px, and how many times too high it is drawn at most. */
const margin = { x: 40, top: 24, bottom: 16 };
const factors = [1, 2, 3, 4, 5, 6, 8, 10] as const;

/** The chosen brace cut along its middle, its heights worked on: as long as the strip, higher than it is by a round factor. */
export function BraceProfile({
  drawn,
  chosen,
  size,
  onKey,
  onTap,
}: {
  readonly drawn: InstrumentSketch;
  readonly chosen: string;
  readonly size: Size;
  readonly onKey: (handle: Handle, event: React.KeyboardEvent) => void;
  readonly onTap: (handle: Handle) => void;
}) {
  const units = useBench((bench) => bench.preferences.units);
  const draft = usePlan((plan) => plan.draft);
  const refusal = usePlan((plan) => plan.refusal);
  const brace = drawn[chosen.startsWith("top") ? "top" : "back"].braces.find(({ path }) => path === chosen);
  const handles = useMemo(() => (brace === undefined ? [] : profileHandles(brace)), [brace]);
  // the strip keeps its scale under the hand
  const held = draft?.handle.view === "profile";
  const scale = useRef({ along: 1, up: 1, factor: 1 });
  if (brace !== undefined && !held) scale.current = scaleOf(brace.onPlate, brace.height, size);
  const { along, up, factor } = scale.current;
  const place = (s: number, h: number): Place => [margin.x + along * s, size.height - margin.bottom - up * h];
  const svg = useRef<SVGSVGElement>(null);
  useProfileHand(svg, handles, onTap, ([x, y]) => [
    (x - margin.x) / along,
    (size.height - margin.bottom - y) / up,
  ]);
  if (brace === undefined) return null;
  const { heights, onPlate } = brace;
  const long = onPlate[1] - onPlate[0];
  let crest = "";
  for (let i = 0; i < heights.length; i += 2) {
    const [x, y] = place(heights[i]!, heights[i + 1]!);
    crest += `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`;
  }
  const [x0, y0] = place(0, 0);
  const [x1] = place(long, 0);
  return (
    <svg
      ref={svg}
      className="plan-sheet plan-profile"
      aria-label={`${brace.name} from its side, heights ${factor} times too large`}
      style={{ height: size.height }}
    >
      <path className="ink-fine wood-brace" d={`${crest}L${x1} ${y0}L${x0} ${y0}Z`} />
      <path className="ink-medium" d={`M${x0 - 24} ${y0}H${x1 + 24}`} />
      <text className="label" x={8} y={18}>
        {`${brace.name} (${startWords(brace)} left): ${shownLength(long, units)} on the plate, ${shownLength(brace.width, units)} wide, ${shownLength(brace.height, units)} high${factor === 1 ? "" : `; drawn ${factor} × as high`}`}
      </text>
      {handles.map((handle) => (
        <HandleMark
          key={handle.id}
          handle={handle}
          at={place(...handle.at)}
          words={handleWords(handle, units)}
          turnDeg={handle.free[1] ? 0 : 90}
          held={draft?.handle.id === handle.id}
          refused={refusal?.handle === handle.id}
          onKey={onKey}
          onFocus={nothing}
        />
      ))}
      {held && draft.settings.length > 0 ? (
        <text className="label" x={place(...draft.to)[0] + 16} y={Math.max(40, place(...draft.to)[1] - 8)}>
          {handleWords({ ...draft.handle, at: draft.to }, units)}
        </text>
      ) : null}
    </svg>
  );
}

function nothing(): void {}

function startWords({ from, to }: { readonly from: Handle["at"]; readonly to: Handle["at"] }): string {
  const [dx, dy] = [from[0] - to[0], from[1] - to[1]];
  if (Math.abs(dx) > Math.abs(dy)) return dx > 0 ? "neck side" : "tail side";
  return dy > 0 ? "bass side" : "treble side";
}

function scaleOf(onPlate: readonly [number, number], height: number, size: Size) {
  const along = Math.max(100, (size.width - 2 * margin.x) / (onPlate[1] - onPlate[0]));
  const room = (size.height - margin.top - margin.bottom - 12) / (height * 1.25);
  const factor = factors.findLast((f) => f * along <= room) ?? 1;
  return { along, up: along * factor, factor };
}

/** Drags of the strip's own handles: its paper neither shifts nor zooms. */
function useProfileHand(
  ref: React.RefObject<SVGSVGElement | null>,
  handles: readonly Handle[],
  onTap: (handle: Handle) => void,
  offStrip: (place: Place) => Place,
): void {
  const latest = useRef({ handles, onTap, offStrip });
  latest.current = { handles, onTap, offStrip };
  useEffect(() => {
    const svg = ref.current;
    if (svg === null) return;
    let held: { handle: Handle; from: Place; moved: boolean; pointer: number } | null = null;
    const at = (event: PointerEvent): Place => {
      const box = svg.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    };
    const down = (event: PointerEvent): void => {
      const id = (event.target as Element).closest<SVGElement>("[data-handle]")?.dataset["handle"];
      const handle = latest.current.handles.find((h) => h.id === id);
      if (handle === undefined || held !== null) return;
      held = { handle, from: at(event), moved: false, pointer: event.pointerId };
      svg.setPointerCapture(event.pointerId);
    };
    const moved = (event: PointerEvent): void => {
      if (held?.pointer !== event.pointerId) return;
      const here = at(event);
      const far = Math.hypot(here[0] - held.from[0], here[1] - held.from[1]);
      if (!held.moved && far < 4) return;
      if (!held.moved) take(held.handle);
      held.moved = true;
      const [a, b] = [latest.current.offStrip(here), latest.current.offStrip(held.from)];
      const { at: was } = held.handle;
      move([was[0] + a[0] - b[0], was[1] + a[1] - b[1]], event.altKey);
    };
    const up = (event: PointerEvent): void => {
      if (held?.pointer !== event.pointerId) return;
      if (held.moved) void letGo();
      else latest.current.onTap(held.handle);
      held = null;
    };
    const cancel = (): void => {
      if (held !== null) drop();
      held = null;
    };
    svg.addEventListener("pointerdown", down);
    svg.addEventListener("pointermove", moved);
    svg.addEventListener("pointerup", up);
    svg.addEventListener("pointercancel", cancel);
    return () => {
      svg.removeEventListener("pointerdown", down);
      svg.removeEventListener("pointermove", moved);
      svg.removeEventListener("pointerup", up);
      svg.removeEventListener("pointercancel", cancel);
    };
  }, [ref]);
}
