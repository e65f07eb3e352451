import { useMemo } from "react";
import type { BattenWeight } from "#engine/geometry";
import type { InstrumentSketch } from "#engine/pipeline";
import { boxHandles, cutHandles } from "./boxHandles.ts";
import { braceHandles, wholeBrace } from "./braceHandles.ts";
import type { Cut } from "./cut.ts";
import type { Handle } from "./handle.ts";
import { cutawayHandles, ellipseHandles, holeCurveHandle } from "./holeHandles.ts";
import { battenHandles, dimensionHandles } from "./outlineHandles.ts";
import { type Subject, usePlan } from "./planState.ts";
import type { Face } from "./sheetLayout.ts";

/** Handles that are drawn, and besides the braces themselves, which can be taken hold of anywhere along them. */
export interface Handles {
  readonly shown: readonly Handle[];
  readonly braces: readonly Handle[];
}

export function plateOf(face: Face): "top" | "back" {
  return face === "back inside" ? "back" : "top";
}

export function useHandles(
  drawn: InstrumentSketch | null,
  cut: Cut | null,
  subject: Subject,
  face: Face,
  chosen: string | null,
): Handles {
  const laid = usePlan((plan) => plan.laid);
  const held = usePlan((plan) => plan.draft?.settings.find((s) => s.kind === "weights") ?? null);
  return useMemo(() => {
    if (drawn === null) return { shown: [], braces: [] };
    const plate = drawn[plateOf(face)];
    const weightsOf = (which: "outline" | "soundHole"): readonly BattenWeight[] =>
      held?.kind === "weights" && held.path === which ? held.value : (laid[which]?.weights ?? []);
    return {
      shown: shownHandles(drawn, cut, subject, face, chosen, weightsOf),
      braces: subject === "braces" ? plate.braces.map((brace) => wholeBrace(brace, plate)) : [],
    };
  }, [drawn, cut, subject, face, chosen, laid, held]);
}

function shownHandles(
  drawn: InstrumentSketch,
  cut: Cut | null,
  subject: Subject,
  face: Face,
  chosen: string | null,
  weightsOf: (which: "outline" | "soundHole") => readonly BattenWeight[],
): readonly Handle[] {
  const { shape } = drawn;
  const plate = drawn[plateOf(face)];
  switch (subject) {
    case "braces": {
      const brace = plate.braces.find(({ path }) => path === chosen);
      return [
        ...(brace === undefined ? [] : braceHandles(brace, plate)),
        ...(cut === null ? [] : cutHandles(cut, plateOf(face))),
      ];
    }
    case "outline":
      return shape.outline.kind === "dimensions"
        ? dimensionHandles(shape.outline)
        : battenHandles("outline", weightsOf("outline"));
    case "hole":
      return shape.hole.kind === "ellipse"
        ? ellipseHandles(shape.hole)
        : [holeCurveHandle(shape.hole.points), ...battenHandles("soundHole", weightsOf("soundHole"))];
    case "cutaway":
      return shape.cutaway === null || drawn.cutaway === null
        ? []
        : cutawayHandles(shape.cutaway, drawn.cutaway, drawn.length);
    case "box":
      return boxHandles(drawn);
  }
}
