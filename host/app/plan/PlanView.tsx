import "./plan.css";
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Point } from "#engine/geometry";
import type { InstrumentSketch } from "#engine/pipeline";
import { useBench } from "../bench/index.ts";
import { useDesk } from "../desk/useDesk.ts";
import { AcrossDrawing, CutLineMark } from "./AcrossDrawing.tsx";
import { BraceProfile } from "./BraceProfile.tsx";
import { BraceTargets } from "./BraceTargets.tsx";
import { CombMarks } from "./CombMarks.tsx";
import { cutBody } from "./cut.ts";
import { DimensionMarks } from "./DimensionMarks.tsx";
import { draftedSketch } from "./drafted.ts";
import { EntryBox } from "./EntryBox.tsx";
import { type Showing, viewOf } from "./firstView.ts";
import { HandleMark } from "./HandleMarks.tsx";
import type { Handle } from "./handle.ts";
import { PlanDrawing } from "./PlanDrawing.tsx";
import { PlanFoot } from "./PlanFoot.tsx";
import { SubjectTools, WindowTools } from "./PlanTools.tsx";
import { lay, sketched } from "./planDeeds.ts";
import { type Subject, usePlan } from "./planState.ts";
import { profileHandles } from "./profileHandles.ts";
import { Readout } from "./Readout.tsx";
import { ScaleBar } from "./ScaleBar.tsx";
import { SideDrawing } from "./SideDrawing.tsx";
import { SnapSign } from "./SnapSign.tsx";
import { StationHandle } from "./StationHandle.tsx";
import { onSheet, type Place, type SheetLayout, sheetLayout } from "./sheetLayout.ts";
import { matrixOf, type SheetView, type Size, toScreen } from "./sheetView.ts";
import { useHandleKeys } from "./useHandleKeys.ts";
import { useHandles } from "./useHandles.ts";
import { useSheetHand } from "./useSheetHand.ts";
import { handleWords } from "./words.ts";

/** Height of the strip that shows the chosen brace from its side, px. */
const stripPx = 112;

export type { Showing } from "./firstView.ts";

/**
 * The sheet: plan, side and section of the guitar in projection, to scale, worked on by hand. `subject`: what its handles move at
 * first. `showing`: which of the drawings fills the window at first.
 */
export function PlanView({
  subject = "braces",
  showing = "plan",
}: {
  readonly subject?: Subject;
  readonly showing?: Showing;
}) {
  useEffect(() => usePlan.setState({ subject, chosen: null, entry: null }), [subject]);
  const sketch = useDesk((desk) => desk.sketch.value);
  const fresh = useDesk((desk) => desk.sketch.fresh);
  useEffect(() => {
    if (sketch !== null && fresh) sketched();
  }, [sketch, fresh]);
  if (sketch === null) return <p className="plan-waiting">The plan is being laid out.</p>;
  return <PlanSheet sketch={sketch} showing={showing} />;
}

function PlanSheet({ sketch, showing }: { readonly sketch: InstrumentSketch; readonly showing: Showing }) {
  const { subject, face, chosen, view, draft, bent, dimensions, entry, refusal } = usePlan();
  const units = useBench((bench) => bench.preferences.units);
  const station = usePlan((plan) => plan.station) ?? defaultStation(sketch);
  const frame = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const size = useSize(frame);
  const drawn = useMemo(
    () => draftedSketch(sketch, draft?.settings ?? [], bent),
    [sketch, draft?.settings, bent],
  );
  // laid out for what the document says: the sheet does not shift under the hand
  const layout = useMemo(() => sheetLayout(sketch, face), [sketch, face]);
  const cut = useMemo(() => cutBody(drawn, { at: [station, 0], along: [0, 1] }), [drawn, station]);
  const handles = useHandles(drawn, cut, subject, face, chosen);
  useLaidBatten(sketch, subject);
  useFirstView(layout, size, showing);

  const find = useCallback(
    (id: string) =>
      [...handles.shown, ...handles.braces, ...fixedHandles(drawn)].find((handle) => handle.id === id) ??
      profileHandle(drawn, id),
    [handles, drawn],
  );
  const onTap = useCallback((handle: Handle | null) => {
    if (handle === null) usePlan.setState({ entry: null, refusal: null });
    else
      usePlan.setState((plan) => ({
        entry: isBrace(handle) && handle.look === "whole" && plan.chosen !== handle.owner ? null : handle.id,
        refusal: null,
        ...(isBrace(handle) ? { chosen: handle.owner } : {}),
      }));
  }, []);
  useSheetHand(svg, { layout, size, find, onTap });
  const keys = useHandleKeys(layout, view);
  const onFocus = useCallback((handle: Handle) => {
    if (isBrace(handle)) usePlan.setState({ chosen: handle.owner });
  }, []);

  const screen = (v: Handle["view"], at: Point): Place =>
    view === null ? [0, 0] : toScreen(view, layout.hand, size, onSheet(layout, v, at));
  const open = entry === null ? null : find(entry);
  return (
    <section className="plan" aria-label="Plan">
      <SubjectTools sketch={sketch} />
      <div className="plan-window" ref={frame}>
        <svg ref={svg} className="plan-sheet" aria-label={sheetWords(sketch)}>
          {view === null ? null : (
            <>
              <g transform={matrixOf(view, layout.hand, size)}>
                <PlanDrawing drawn={drawn} layout={layout} face={face} chosen={chosen} />
                <SideDrawing drawn={drawn} layout={layout} />
                <AcrossDrawing cut={cut} layout={layout} chosen={chosen} />
                <CutLineMark station={station} layout={layout} half={halfWidth(sketch)} />
                {subject === "outline" || subject === "cutaway" ? (
                  <CombMarks of="outline" comb={drawn.fairness.outline.comb} layout={layout} />
                ) : null}
                {subject === "hole" && (draft === null || bent !== null) ? (
                  <CombMarks of="hole" comb={drawn.fairness.hole.comb} layout={layout} />
                ) : null}
              </g>
              {dimensions ? <DimensionMarks drawn={drawn} layout={layout} view={view} size={size} /> : null}
              {subject === "braces" ? (
                <BraceTargets
                  handles={handles.braces}
                  drawn={drawn}
                  layout={layout}
                  view={view}
                  size={size}
                  chosen={chosen}
                  onKey={keys}
                />
              ) : null}
              <StationHandle
                station={station}
                layout={layout}
                view={view}
                size={size}
                half={halfWidth(sketch)}
              />
              {draft?.target ? (
                <SnapSign
                  at={draft.to}
                  target={draft.target}
                  screen={(at) => screen(draft.handle.view, at)}
                />
              ) : null}
              {handles.shown.map((handle) => (
                <HandleMark
                  key={handle.id}
                  handle={handle}
                  at={screen(handle.view, handle.at)}
                  words={handleWords(handle, units)}
                  turnDeg={handle.look === "height" ? heightTurn(handle, view, layout) : 0}
                  held={draft?.handle.id === handle.id}
                  refused={refusal?.handle === handle.id}
                  onKey={keys}
                  onFocus={onFocus}
                />
              ))}
            </>
          )}
        </svg>
        <WindowTools layout={layout} size={size} />
        <ScaleBar />
        {draft === null || view === null || draft.handle.view === "profile" ? null : (
          <Readout
            draft={draft}
            at={screen(draft.handle.view, draft.to)}
            units={units}
            size={size}
            refusal={refusal?.words ?? null}
          />
        )}
        {open === null || draft?.stage === "held" ? null : (
          <EntryBox
            key={open.id}
            handle={open}
            at={open.view === "profile" ? [size.width / 2, size.height] : screen(open.view, open.at)}
            size={size}
            units={units}
            refusal={refusal?.handle === open.id ? refusal.words : null}
          />
        )}
      </div>
      {subject !== "braces" ? null : chosen === null ? (
        <p className="plan-profile plan-profile-empty" style={{ height: stripPx }}>
          Choose a brace: here it lies on its side, and its heights are worked on.
        </p>
      ) : (
        <BraceProfile
          key={chosen}
          drawn={drawn}
          chosen={chosen}
          size={{ width: size.width, height: stripPx }}
          onKey={keys}
          onTap={onTap}
        />
      )}
      <PlanFoot drawn={drawn} subject={subject} />
    </section>
  );
}

/** A handle of the strip: its figures open over the sheet. */
function profileHandle(drawn: InstrumentSketch, id: string): Handle | null {
  const braces = id.startsWith("top.") ? drawn.top.braces : id.startsWith("back.") ? drawn.back.braces : [];
  const brace = braces.find(({ path }) => id.startsWith(`${path}.`));
  return brace === undefined ? null : (profileHandles(brace).find((handle) => handle.id === id) ?? null);
}

/** What cannot be moved, and says why when it is tried. */
function fixedHandles({ bridge }: InstrumentSketch): readonly Handle[] {
  const [bass, treble] = bridge.saddle;
  return [
    {
      id: "bridge",
      owner: "bridge",
      view: "plan",
      at: [(bass[0] + treble[0]) / 2, (bass[1] + treble[1]) / 2],
      look: "whole",
      name: "bridge",
      free: [false, false],
      targets: [],
      moved: () => [],
      entries: [],
      note: "Its place follows from the scale, the square fret and the fret at which the neck joins: change those.",
    },
  ];
}

function isBrace(handle: Handle): boolean {
  return handle.owner.includes("braces[");
}

function defaultStation(sketch: InstrumentSketch): number {
  const [bass, treble] = sketch.bridge.saddle;
  return Math.round((1000 * (bass[0] + treble[0])) / 2 - 60) / 1000;
}

function halfWidth(sketch: InstrumentSketch): number {
  let half = 0;
  for (let i = 1; i < sketch.outline.length; i += 2) half = Math.max(half, Math.abs(sketch.outline[i]!));
  return half;
}

function sheetWords(sketch: InstrumentSketch): string {
  const hand = sketch.hand === "left" ? "left-handed guitar" : "guitar";
  return `The ${hand} to scale: plan with ${sketch.top.braces.length} braces of the top and ${sketch.back.braces.length} of the back, the side, a section across.`;
}

/** A height's arrow points along the body's depth as it lies on the screen. */
function heightTurn(handle: Handle, view: SheetView, layout: SheetLayout): number {
  const size = { width: 0, height: 0 };
  const at = (z: number): Place =>
    toScreen(view, layout.hand, size, onSheet(layout, handle.view, [handle.at[0], z]));
  const [a, b] = [at(0), at(0.01)];
  return (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI - 90;
}

/** A batten is laid where a curve is drawn through points and its weights are asked for. */
function useLaidBatten(sketch: InstrumentSketch, subject: Subject): void {
  const { outline, hole } = sketch.shape;
  useEffect(() => {
    for (const [which, wanted] of [
      ["outline", subject === "outline" && outline.kind === "points"],
      ["soundHole", subject === "hole" && hole.kind === "curve"],
    ] as const) {
      const { laid } = usePlan.getState();
      const mine = laid[which];
      if (mine?.kept) usePlan.setState({ laid: { ...laid, [which]: { ...mine, kept: false } } });
      else {
        usePlan.setState({ laid: { ...laid, [which]: null } });
        if (wanted) lay(which);
      }
    }
  }, [outline, hole, subject]);
}

/** The window on the sheet: what was asked for fills it, whatever its size, until the maker moves it. */
function useFirstView(layout: SheetLayout, size: Size, showing: Showing): void {
  const own = useRef<{ readonly showing: Showing; readonly view: SheetView | null }>({ showing, view: null });
  useEffect(() => {
    if (size.width === 0) return;
    const { view } = usePlan.getState();
    const moved = view !== null && view !== own.current.view;
    if (moved && own.current.view !== null && own.current.showing === showing) return;
    own.current = { showing, view: viewOf(layout, size, showing) };
    usePlan.setState({ view: own.current.view });
  }, [layout, size, showing]);
}

function useSize(ref: React.RefObject<HTMLElement | null>): Size {
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  useEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const observer = new ResizeObserver(() =>
      setSize({ width: element.clientWidth, height: element.clientHeight }),
    );
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}
