import { memo } from "react";
import type { InstrumentSketch } from "#engine/pipeline";
import { useBench } from "../bench/index.ts";
import type { Handle } from "./handle.ts";
import { barsOf } from "./PlanDrawing.tsx";
import { usePlan } from "./planState.ts";
import { pathOn, type SheetLayout } from "./sheetLayout.ts";
import { matrixOf, type SheetView, type Size } from "./sheetView.ts";
import { shownLength } from "./typed.ts";
import { plateOf } from "./useHandles.ts";

/** The braces as what can be taken hold of anywhere along them, wider than they are drawn. */
export const BraceTargets = memo(function BraceTargets({
  handles,
  drawn,
  layout,
  view,
  size,
  chosen,
  onKey,
}: {
  readonly handles: readonly Handle[];
  readonly drawn: InstrumentSketch;
  readonly layout: SheetLayout;
  readonly view: SheetView;
  readonly size: Size;
  readonly chosen: string | null;
  readonly onKey: (handle: Handle, event: React.KeyboardEvent) => void;
}) {
  const face = usePlan((plan) => plan.face);
  const units = useBench((bench) => bench.preferences.units);
  const { braces } = drawn[plateOf(face)];
  return (
    <g transform={matrixOf(view, layout.hand, size)}>
      {braces.map((brace, i) => {
        const handle = handles[i];
        return handle === undefined ? null : (
          // biome-ignore lint/a11y/useSemanticElements: a path of a drawing cannot be a button element
          <path
            key={brace.path}
            className="brace-target"
            d={pathOn(layout, "plan", barsOf(brace), true)}
            data-handle={handle.id}
            role="button"
            tabIndex={0}
            aria-pressed={brace.path === chosen}
            aria-label={`${brace.name}: ${shownLength(brace.width, units)} wide, ${shownLength(brace.height, units)} high`}
            onKeyDown={(event) => {
              if (event.key === "Enter" || event.key === " ") {
                event.preventDefault();
                usePlan.setState({ chosen: brace.path });
              } else onKey(handle, event);
            }}
          />
        );
      })}
    </g>
  );
});
