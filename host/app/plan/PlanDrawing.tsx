import { memo } from "react";
import type { InstrumentSketch, SketchBrace } from "#engine/pipeline";
import { Board, Bridge, HiddenBridge, Hole, Rods, Strings } from "./PlanParts.tsx";
import { type Face, pathOn, type SheetLayout } from "./sheetLayout.ts";
import { plateOf } from "./useHandles.ts";

/** The guitar in plan. Every part is drawn again only when it has itself changed. */
export function PlanDrawing({
  drawn,
  layout,
  face,
  chosen,
}: {
  readonly drawn: InstrumentSketch;
  readonly layout: SheetLayout;
  readonly face: Face;
  readonly chosen: string | null;
}) {
  const inside = face !== "front";
  return (
    <g className={`plan-face-${face.replace(" ", "-")}`}>
      <Ground
        edge={drawn.outline}
        full={drawn.fullOutline}
        layout={layout}
        wood={face === "back inside" ? "back" : "top"}
      />
      {inside ? <Rim sides={drawn.sides} blocks={drawn.blocks} layout={layout} /> : null}
      {face === "front" ? (
        <Braces braces={drawn.back.braces} layout={layout} look="behind" chosen={null} />
      ) : null}
      <Patches
        patches={face === "back inside" ? drawn.back.patches : drawn.top.patches}
        bridgePlate={face === "back inside" ? null : drawn.bridgePlate}
        layout={layout}
        hidden={!inside}
      />
      <Braces
        braces={drawn[plateOf(face)].braces}
        layout={layout}
        look={inside ? "open" : "hidden"}
        chosen={chosen}
      />
      {inside ? <Rods rods={drawn.rods} layout={layout} /> : null}
      {face === "back inside" ? null : <Hole hole={drawn.hole} openEdge={drawn.openEdge} layout={layout} />}
      {face === "front" ? (
        <>
          <Board board={drawn.board} layout={layout} />
          <Bridge bridge={drawn.bridge} layout={layout} />
          <Strings board={drawn.board} layout={layout} />
        </>
      ) : face === "top inside" ? (
        <HiddenBridge bridge={drawn.bridge} layout={layout} />
      ) : null}
      <Centreline drawn={drawn} layout={layout} />
    </g>
  );
}

const Ground = memo(function Ground({
  edge,
  full,
  layout,
  wood,
}: {
  readonly edge: Float64Array;
  readonly full: Float64Array;
  readonly layout: SheetLayout;
  readonly wood: "top" | "back";
}) {
  return (
    <>
      {full === edge ? null : <path className="ink-trace" d={pathOn(layout, "plan", [full], true)} />}
      <path className={`ink-edge wood-${wood}`} d={pathOn(layout, "plan", [edge], true)} />
    </>
  );
});

const Rim = memo(function Rim({
  sides,
  blocks,
  layout,
}: {
  readonly sides: InstrumentSketch["sides"];
  readonly blocks: InstrumentSketch["blocks"];
  readonly layout: SheetLayout;
}) {
  const lines = [sides.inside, sides.topLining.edge];
  return (
    <>
      <path className="ink-thin" d={pathOn(layout, "plan", lines, true)} />
      {blocks.map(({ path, name, centre: [x, y], size: [along, across] }) => (
        <path
          key={path}
          className="ink-thin wood-block"
          d={pathOn(
            layout,
            "plan",
            [
              [
                x - along / 2,
                y - across / 2,
                x + along / 2,
                y - across / 2,
                x + along / 2,
                y + across / 2,
                x - along / 2,
                y + across / 2,
              ],
            ],
            true,
          )}
        >
          <title>{name}</title>
        </path>
      ))}
    </>
  );
});

const Patches = memo(function Patches({
  patches,
  bridgePlate,
  layout,
  hidden,
}: {
  readonly patches: InstrumentSketch["top"]["patches"];
  readonly bridgePlate: InstrumentSketch["bridgePlate"];
  readonly layout: SheetLayout;
  readonly hidden: boolean;
}) {
  const all = bridgePlate === null ? patches : [...patches, bridgePlate];
  return all.map(({ path, name, polygon }) => (
    <path
      key={path}
      className={hidden ? "ink-hidden-short" : "ink-thin wood-patch"}
      d={pathOn(layout, "plan", [polygon], true)}
    >
      <title>{name}</title>
    </path>
  ));
});

const Braces = memo(function Braces({
  braces,
  layout,
  look,
  chosen,
}: {
  readonly braces: readonly SketchBrace[];
  readonly layout: SheetLayout;
  readonly look: "hidden" | "behind" | "open";
  readonly chosen: string | null;
}) {
  return braces.map((brace) => (
    <BraceBar key={brace.path} brace={brace} layout={layout} look={look} chosen={brace.path === chosen} />
  ));
});

const BraceBar = memo(function BraceBar({
  brace,
  layout,
  look,
  chosen,
}: {
  readonly brace: SketchBrace;
  readonly layout: SheetLayout;
  readonly look: "hidden" | "behind" | "open";
  readonly chosen: boolean;
}) {
  const ink =
    look === "open" ? "ink-fine wood-brace" : look === "hidden" ? "ink-hidden wood-brace" : "ink-behind";
  return (
    <path className={`${ink}${chosen ? " chosen" : ""}`} d={pathOn(layout, "plan", barsOf(brace), true)} />
  );
});

/** The outlines of a brace's pieces in plan. */
export function barsOf(brace: SketchBrace): readonly (readonly number[])[] {
  return brace.pieces.map(({ path }) => {
    const [ax, ay, bx, by] = path;
    const length = Math.hypot(bx! - ax!, by! - ay!);
    const [dx, dy] = [(((by! - ay!) / length) * brace.width) / 2, (((bx! - ax!) / length) * brace.width) / 2];
    return [ax! - dx, ay! + dy, ax! + dx, ay! - dy, bx! + dx, by! - dy, bx! - dx, by! + dy];
  });
}

const Centreline = memo(function Centreline({
  drawn,
  layout,
}: {
  readonly drawn: InstrumentSketch;
  readonly layout: SheetLayout;
}) {
  const over = 0.014;
  const nut = drawn.board.nutLine;
  const end = Math.max(nut.bass[0], nut.treble[0]);
  return <path className="ink-centre" d={pathOn(layout, "plan", [[-over, 0, end + over, 0]], false)} />;
});
