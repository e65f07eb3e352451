import type { InstrumentSketch } from "#engine/pipeline";
import { IconButton, Menu, Segments, Tick } from "../kit/index.ts";
import { addBrace, duplicateBrace, holeToPoints, removeBrace, toPoints } from "./curveAndBraceDeeds.ts";
import { viewOf } from "./firstView.ts";
import { addWeight } from "./planDeeds.ts";
import { type Subject, usePlan } from "./planState.ts";
import type { Face, SheetLayout } from "./sheetLayout.ts";
import { type Size, zoomedAt } from "./sheetView.ts";

const faces: readonly { readonly id: Face; readonly label: string }[] = [
  { id: "front", label: "Front" },
  { id: "top inside", label: "Top inside" },
  { id: "back inside", label: "Back inside" },
];

/** What is worked on, and what can be done with it beside moving it. */
export function SubjectTools({ sketch }: { readonly sketch: InstrumentSketch }) {
  const subject = usePlan((plan) => plan.subject);
  const subjects: readonly { readonly id: Subject; readonly label: string }[] = [
    { id: "outline", label: "Outline" },
    ...(sketch.shape.cutaway === null ? [] : [{ id: "cutaway", label: "Cutaway" } as const]),
    { id: "hole", label: "Hole" },
    { id: "braces", label: "Braces" },
    { id: "box", label: "Box" },
  ];
  return (
    <div className="plan-tools">
      <Segments
        label="Work on"
        value={subject}
        options={subjects}
        onChange={(id) => usePlan.setState({ subject: id, entry: null, refusal: null })}
      />
      {subject === "braces" ? <BraceMenu sketch={sketch} /> : null}
      {subject === "outline" ? <OutlineMenu sketch={sketch} /> : null}
      {subject === "hole" ? <HoleMenu sketch={sketch} /> : null}
    </div>
  );
}

function BraceMenu({ sketch }: { readonly sketch: InstrumentSketch }) {
  const chosen = usePlan((plan) => plan.chosen);
  return (
    <Menu
      label="Brace"
      kind="plain"
      items={[
        { id: "add", label: "Add a brace" },
        { id: "duplicate", label: "Duplicate on the other side", isDisabled: chosen === null },
        { id: "remove", label: "Take out", isDisabled: chosen === null },
      ]}
      onAction={(id) => {
        if (id === "add") void addBrace(sketch);
        else if (id === "duplicate") void duplicateBrace(sketch);
        else void removeBrace(sketch);
      }}
    />
  );
}

function OutlineMenu({ sketch }: { readonly sketch: InstrumentSketch }) {
  const alone = usePlan((plan) => plan.alone);
  const stated = sketch.shape.outline.kind === "dimensions";
  return (
    <Menu
      label="Weights"
      kind="plain"
      items={[
        {
          id: "alone",
          label: alone ? "Move both sides" : "Move one side alone",
          detail: alone ? "now one side alone" : "now both sides alike",
        },
        stated
          ? { id: "free", label: "Set the weights free", detail: "the curve is kept within 0.1 mm" }
          : { id: "add", label: "Add a weight" },
      ]}
      onAction={(id) => {
        if (id === "alone") usePlan.setState({ alone: !alone });
        else if (id === "free") void toPoints(sketch);
        else addWeight("outline");
      }}
    />
  );
}

function HoleMenu({ sketch }: { readonly sketch: InstrumentSketch }) {
  const ellipse = sketch.shape.hole.kind === "ellipse";
  return (
    <Menu
      label="Weights"
      kind="plain"
      items={[
        ellipse
          ? { id: "free", label: "Hold by weights", detail: "the curve is kept within 0.1 mm" }
          : { id: "add", label: "Add a weight" },
      ]}
      onAction={(id) => {
        if (id === "free") void holeToPoints(sketch);
        else addWeight("soundHole");
      }}
    />
  );
}

/** Which side is up, and how the hand moves. */
export function SheetTools() {
  const { face, snapping, dimensions } = usePlan();
  return (
    <div className="plan-tools">
      <Segments
        label="Side that is up"
        value={face}
        options={faces}
        onChange={(id) => usePlan.setState({ face: id, chosen: null, entry: null, refusal: null })}
      />
      <Tick isSelected={snapping} onChange={(on) => usePlan.setState({ snapping: on })}>
        Snap
      </Tick>
      <Tick
        isSelected={dimensions}
        onChange={(on) =>
          usePlan.setState(({ view }) => ({
            dimensions: on,
            // room for the lines beside the plan
            view: view === null ? null : { ...view, scale: view.scale * (on ? 0.84 : 1 / 0.84) },
          }))
        }
      >
        Dimensions
      </Tick>
    </div>
  );
}

/** How the sheet lies under the window, in its corner. */
export function WindowTools({ layout, size }: { readonly layout: SheetLayout; readonly size: Size }) {
  const zoom = (factor: number) =>
    usePlan.setState(({ view }) => ({
      view:
        view === null ? null : zoomedAt(view, layout.hand, size, [size.width / 2, size.height / 2], factor),
    }));
  return (
    <div className="plan-corner">
      <IconButton label="Smaller" sign="minus" onPress={() => zoom(1 / 1.3)} />
      <IconButton label="Larger" sign="plus" onPress={() => zoom(1.3)} />
      <Menu
        label="See"
        sign="fit"
        items={[
          { id: "plan", label: "Plan" },
          { id: "section", label: "Section across" },
          { id: "side", label: "Side" },
          { id: "sheet", label: "Whole sheet" },
          { id: "turn", label: "Turn the sheet" },
          { id: "real", label: "Real size" },
        ]}
        onAction={(id) => see(id, layout, size)}
      />
    </div>
  );
}

function see(
  id: "plan" | "section" | "side" | "sheet" | "turn" | "real",
  layout: SheetLayout,
  size: Size,
): void {
  usePlan.setState(({ view, pxPerMm }) => {
    if (view === null) return {};
    if (id === "turn") return { view: { ...view, turn: view.turn === "long" ? "upright" : "long" } };
    if (id === "real") return { view: { ...view, scale: pxPerMm } };
    return { view: viewOf(layout, size, id) };
  });
}
