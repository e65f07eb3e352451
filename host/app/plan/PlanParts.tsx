import { memo } from "react";
import type { InstrumentSketch } from "#engine/pipeline";
import { pathOn, type SheetLayout } from "./sheetLayout.ts";

export const Rods = memo(function Rods({
  rods,
  layout,
}: {
  readonly rods: InstrumentSketch["rods"];
  readonly layout: SheetLayout;
}) {
  return rods.map(({ path, name, from, to, diameter }) => (
    <path
      key={path}
      className="ink-fine rod"
      d={pathOn(layout, "plan", [[from[0], from[1], to[0], to[1]]], false)}
      data-diameter={diameter}
    >
      <title>{name}</title>
    </path>
  ));
});

export const Hole = memo(function Hole({
  hole,
  openEdge,
  layout,
}: {
  readonly hole: InstrumentSketch["hole"];
  readonly openEdge: InstrumentSketch["openEdge"];
  readonly layout: SheetLayout;
}) {
  return (
    <>
      <path className="ink-medium hole" d={pathOn(layout, "plan", [hole.inside], true)} />
      {openEdge.length === 0 ? null : (
        <path className="ink-hidden-short" d={pathOn(layout, "plan", openEdge, false)} />
      )}
    </>
  );
});

export const Bridge = memo(function Bridge({
  bridge,
  layout,
}: {
  readonly bridge: InstrumentSketch["bridge"];
  readonly layout: SheetLayout;
}) {
  const [bass, treble] = bridge.saddle;
  return (
    <g className="bridge" data-handle="bridge">
      <path className="ink-medium wood-dark" d={pathOn(layout, "plan", [bridge.polygon], true)} />
      <path
        className="ink-hair"
        d={pathOn(
          layout,
          "plan",
          bridge.parts.map((part) => part.polygon),
          true,
        )}
      />
      <path className="ink-heavy" d={pathOn(layout, "plan", [[...bass, ...treble]], false)} />
    </g>
  );
});

export const HiddenBridge = memo(function HiddenBridge({
  bridge,
  layout,
}: {
  readonly bridge: InstrumentSketch["bridge"];
  readonly layout: SheetLayout;
}) {
  return <path className="ink-hidden-short" d={pathOn(layout, "plan", [bridge.polygon], true)} />;
});

export const Board = memo(function Board({
  board,
  layout,
}: {
  readonly board: InstrumentSketch["board"];
  readonly layout: SheetLayout;
}) {
  const { bassEdge, trebleEdge, slots, nutLine } = board;
  return (
    <g className="board">
      <path
        className="ink-medium wood-board"
        d={pathOn(
          layout,
          "plan",
          [[...bassEdge[0], ...bassEdge[1], ...trebleEdge[1], ...trebleEdge[0]]],
          true,
        )}
      />
      <path
        className="ink-thin"
        d={pathOn(
          layout,
          "plan",
          slots.map(({ bass, treble }) => [...bass, ...treble]),
          false,
        )}
      />
      <path className="ink-heavy" d={pathOn(layout, "plan", [[...nutLine.bass, ...nutLine.treble]], false)} />
    </g>
  );
});

export const Strings = memo(function Strings({
  board,
  layout,
}: {
  readonly board: InstrumentSketch["board"];
  readonly layout: SheetLayout;
}) {
  return (
    <path
      className="ink-hair"
      d={pathOn(
        layout,
        "plan",
        board.strings.map(({ nut, saddle }) => [...nut, ...saddle]),
        false,
      )}
    />
  );
});
