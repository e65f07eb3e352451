import { memo } from "react";
import type { InstrumentSketch } from "#engine/pipeline";
import { type Cut, cutBody, heights } from "./cut.ts";
import { pathOn, type SheetLayout } from "./sheetLayout.ts";

/** The guitar cut along its centreline, seen from the bass side: box, bridge, neck, middle string. */
export const SideDrawing = memo(function SideDrawing({
  drawn,
  layout,
}: {
  readonly drawn: InstrumentSketch;
  readonly layout: SheetLayout;
}) {
  const cut = cutBody(drawn, { at: [0, 0], along: [1, 0] });
  const { neck } = drawn;
  return (
    <g>
      <CutMarks cut={cut} layout={layout} view="side" />
      <path className="ink-medium wood-neck" d={pathOn(layout, "side", [neckShape(drawn)], true)} />
      <path className="ink-fine wood-board" d={pathOn(layout, "side", [boardShape(drawn)], true)} />
      <path className="ink-fine wood-neck" d={pathOn(layout, "side", [headShape(drawn)], true)} />
      <path
        className="ink-string"
        d={pathOn(
          layout,
          "side",
          drawn.strings.map(({ crown, nut }) => [crown[0], crown[2], nut[0], nut[2]]),
          false,
        )}
      />
      <path
        className="ink-centre"
        d={pathOn(layout, "side", [[-0.014, 0, neck.boardTo[0] + 0.014, 0]], false)}
      />
    </g>
  );
});

/** What a cut goes through, filled by wood. */
export function CutMarks({
  cut,
  layout,
  view,
  chosen = null,
}: {
  readonly cut: Cut;
  readonly layout: SheetLayout;
  readonly view: "side" | "across";
  readonly chosen?: string | null;
}) {
  const path = (chains: readonly Float64Array[]): string => pathOn(layout, view, chains, true);
  return (
    <>
      <path className="ink-thin wood-block" d={path(cut.blocks)} />
      <path className="ink-thin wood-block" d={path(cut.linings)} />
      <path className="ink-fine wood-back" d={path(cut.sides)} />
      <path className="ink-fine wood-patch" d={path(cut.patches)} />
      {cut.braces.map(({ brace, shape }, i) => (
        <path
          // a brace may be cut more than once; its cuts keep their order
          key={`${brace.path}${i}`}
          className={`ink-fine wood-brace${brace.path === chosen ? " chosen" : ""}`}
          d={path([shape])}
        >
          <title>{brace.name}</title>
        </path>
      ))}
      <path className="ink-medium wood-top" d={path(cut.top)} />
      <path className="ink-medium wood-back" d={path(cut.back)} />
      <path className="ink-medium wood-dark" d={path(cut.bridge)} />
    </>
  );
}

function boardShape({ neck }: InstrumentSketch): readonly number[] {
  const [x0, z0] = neck.boardFrom;
  const [x1, z1] = neck.boardTo;
  const slope = (z1 - z0) / (x1 - x0);
  const z = (x: number): number => z0 + slope * (x - x0);
  const t = neck.boardThickness;
  return [neck.boardEnd, z(neck.boardEnd), x1, z1, x1, z1 - t, neck.boardEnd, z(neck.boardEnd) - t];
}

/** From the body's edge to the nut, its back as deep as stated; the heel stands straight on the body. */
function neckShape(drawn: InstrumentSketch): readonly number[] {
  const { neck, length } = drawn;
  const [x0, z0] = neck.boardFrom;
  const [x1, z1] = neck.boardTo;
  const slope = (z1 - z0) / (x1 - x0);
  const surface = (x: number): number => z0 + slope * (x - x0);
  const under = neck.depths.map(({ x, depth }) => [x, surface(x) - depth]);
  const heel = heights(drawn).back([length, 0]) - drawn.back.meanThickness;
  const foot = 0.012;
  return [
    length,
    surface(length) - neck.boardThickness,
    x1,
    z1 - neck.boardThickness,
    ...under.reverse().flat(),
    length + 2 * foot,
    (surface(length) + heel) / 2,
    length + foot,
    heel,
    length,
    heel,
  ];
}

function headShape({ neck }: InstrumentSketch): readonly number[] {
  const [x1, z1] = neck.boardTo;
  const [cos, sin] = [Math.cos(neck.head.angle + neck.pitch), Math.sin(neck.head.angle + neck.pitch)];
  const [dx, dz] = [neck.head.length * cos, -neck.head.length * sin];
  const [tx, tz] = [-neck.head.thickness * sin, -neck.head.thickness * cos];
  const z = z1 - neck.boardThickness;
  return [x1, z, x1 + dx, z + dz, x1 + dx + tx, z + dz + tz, x1 + tx, z + tz];
}
