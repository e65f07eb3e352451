import { useBench } from "../bench/index.ts";
import { usePlan } from "./planState.ts";
import { onSheet, type SheetLayout } from "./sheetLayout.ts";
import { type SheetView, type Size, toScreen } from "./sheetView.ts";
import { stepOf } from "./typed.ts";
import { handleWords } from "./words.ts";

/** Where the section across is cut: moved along the body, and no part of the document. */
export function StationHandle({
  station,
  layout,
  view,
  size,
  half,
}: {
  readonly station: number;
  readonly layout: SheetLayout;
  readonly view: SheetView;
  readonly size: Size;
  readonly half: number;
}) {
  const units = useBench((bench) => bench.preferences.units);
  const at = toScreen(view, layout.hand, size, onSheet(layout, "plan", [station, half + 0.026]));
  const set = (by: number) => usePlan.setState({ station: Math.round(10000 * (station + by)) / 10000 });
  return (
    <g
      className="handle station"
      transform={`translate(${at[0]} ${at[1]})`}
      data-handle="station"
      role="slider"
      tabIndex={0}
      aria-label="Section across"
      aria-valuenow={Math.round(10000 * station) / 10}
      aria-valuemin={0}
      aria-valuemax={Math.round(1000 * layout.boxes.plan.right)}
      aria-valuetext={handleWords({ at: [station, 0], free: [true, false], view: "plan" }, units)}
      onKeyDown={(event) => {
        const { key, long } = stepOf(units);
        const step = event.shiftKey ? long : key;
        if (event.key === "ArrowRight" || event.key === "ArrowUp") set(step);
        else if (event.key === "ArrowLeft" || event.key === "ArrowDown") set(-step);
        else return;
        event.preventDefault();
      }}
    >
      <circle className="take" r={20} />
      <text className="label letter" textAnchor="middle" dominantBaseline="central">
        A
      </text>
    </g>
  );
}
