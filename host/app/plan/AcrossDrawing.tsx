import { memo } from "react";
import type { Cut } from "./cut.ts";
import { CutMarks } from "./SideDrawing.tsx";
import { pathOn, type SheetLayout } from "./sheetLayout.ts";

/** The body cut square to the centreline at a station, seen from the tail. */
export const AcrossDrawing = memo(function AcrossDrawing({
  cut,
  layout,
  chosen,
}: {
  readonly cut: Cut;
  readonly layout: SheetLayout;
  readonly chosen: string | null;
}) {
  return (
    <g>
      <CutMarks cut={cut} layout={layout} view="across" chosen={chosen} />
      <path className="ink-centre" d={pathOn(layout, "across", [[0, 0.03, 0, -0.13]], false)} />
    </g>
  );
});

/** Where the section is cut, across the plan. */
export const CutLineMark = memo(function CutLineMark({
  station,
  layout,
  half,
}: {
  readonly station: number;
  readonly layout: SheetLayout;
  readonly half: number;
}) {
  const end = half + 0.012;
  const tick = 0.016;
  return (
    <>
      <path className="ink-centre" d={pathOn(layout, "plan", [[station, -end, station, end]], false)} />
      <path
        className="ink-heavy"
        d={pathOn(
          layout,
          "plan",
          [
            [station, -end, station, -end + tick],
            [station, end - tick, station, end],
          ],
          false,
        )}
      />
    </>
  );
});
