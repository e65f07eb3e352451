import type { InstrumentSketch } from "#engine/pipeline";
import { Button, IconButton, Menu, Segments, Tick } from "../kit/index.ts";
import { addBrace, duplicateBrace, holeToPoints, removeBrace, toPoints } from "./curveAndBraceDeeds.ts";
import { viewOf } from "./firstView.ts";
import { addWeight } from "./planDeeds.ts";
import { type Subject, usePlan } from "./planState.ts";
import type { Face, SheetLayout } from "./sheetLayout.ts";
import { type Size, zoomedAt } from "./sheetView.ts";

const faces: readonly { readonly id: Face; readonly label: string }[] = [
  { id: "front", label: "Front" },
  { id: "top inside", label: "Top, inside" },
  { id: "back inside", label: "Back, inside" },
];

/** What is worked on, which side is up, how the hand moves, and how the sheet lies under the window. */
export function PlanTools({
  sketch,
  layout,
  size,
}: {
  readonly sketch: InstrumentSketch;
  readonly layout: SheetLayout;
  readonly size: Size;
}) {
  const { subject, face, snapping, alone, dimensions, chosen } = usePlan();
  const zoom = (factor: number) =>
    usePlan.setState(({ view }) => ({
      view:
        view === null ? null : zoomedAt(view, layout.hand, size, [size.width / 2, size.height / 2], factor),
    }));
  const subjects: readonly { readonly id: Subject; readonly label: string }[] = [
    { id: "outline", label: "Outline" },
    ...(sketch.shape.cutaway === null ? [] : [{ id: "cutaway", label: "Cutaway" } as const]),
    { id: "hole", label: "Hole" },
    { id: "braces", label: "Braces" },
    { id: "box", label: "Depth and domes" },
  ];
  return (
    <div className="plan-tools">
      <Segments
        label="Work on"
        value={subject}
        options={subjects}
        onChange={(id) => usePlan.setState({ subject: id, entry: null, refusal: null })}
      />
      <Segments
        label="Side that is up"
        value={face}
        options={faces}
        onChange={(id) => usePlan.setState({ face: id, chosen: null, entry: null, refusal: null })}
      />
      <span className="plan-tools-row">
        {subject === "braces" ? (
          <Menu
            label="Brace"
            kind="plain"
            items={[
              { id: "add", label: "Add a brace" },
              { id: "duplicate", label: "Duplicate, mirrored", isDisabled: chosen === null },
              { id: "remove", label: "Take out", isDisabled: chosen === null },
            ]}
            onAction={(id) => {
              if (id === "add") void addBrace(sketch);
              else if (id === "duplicate") void duplicateBrace(sketch);
              else void removeBrace(sketch);
            }}
          />
        ) : null}
        {subject === "outline" && sketch.shape.outline.kind === "dimensions" ? (
          <Button kind="plain" onPress={() => void toPoints(sketch)}>
            Hold by free weights
          </Button>
        ) : null}
        {subject === "outline" && sketch.shape.outline.kind === "points" ? (
          <Button kind="plain" onPress={() => addWeight("outline")}>
            Add a weight
          </Button>
        ) : null}
        {subject === "hole" && sketch.shape.hole.kind === "curve" ? (
          <Button kind="plain" onPress={() => addWeight("soundHole")}>
            Add a weight
          </Button>
        ) : null}
        {subject === "hole" && sketch.shape.hole.kind === "ellipse" ? (
          <Button kind="plain" onPress={() => void holeToPoints(sketch)}>
            Hold by free weights
          </Button>
        ) : null}
        {subject === "outline" ? (
          <Tick isSelected={alone} onChange={(on) => usePlan.setState({ alone: on })}>
            This side only
          </Tick>
        ) : null}
        <Tick isSelected={snapping} onChange={(on) => usePlan.setState({ snapping: on })}>
          Snap
        </Tick>
        <Tick isSelected={dimensions} onChange={(on) => usePlan.setState({ dimensions: on })}>
          Dimensions
        </Tick>
      </span>
      <span className="plan-tools-row">
        <IconButton label="Smaller" sign="minus" onPress={() => zoom(1 / 1.3)} />
        <IconButton label="Larger" sign="plus" onPress={() => zoom(1.3)} />
        <Menu
          label="See"
          kind="plain"
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
      </span>
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
