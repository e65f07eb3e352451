import { type BodyPlan, braceHeights, clipBrace, polygonCentroid } from "#engine/geometry";
import { type Build, type CheckedInstrument, statedBrace } from "#engine/instrument";
import { invariant } from "#engine/numerics";
import { edgeHeight } from "../structure/rimHeights.ts";
import type { SketchBrace, SketchPlate } from "./sketchTypes.ts";

type PlateEntry = Extract<CheckedInstrument, { ok: true }>["document"]["top"];

/** A plate with all that is glued to its inside, as stated and as it lies on the plate. */
export function sketchPlate(
  which: "top" | "back",
  entry: PlateEntry,
  build: Build,
  plan: BodyPlan,
): SketchPlate {
  const plate = build[which];
  const hubPath = `${which}.hub.patch`;
  const hub = plate.patches.find(({ documentPath }) => documentPath === hubPath);
  return {
    thickness: plate.thickness,
    meanThickness: plate.meanThickness,
    grainAngle: plate.grainAngle,
    dome: plate.dome,
    edgeHeight: edgeHeight(plan, plate.dome),
    region: which === "top" ? plan.topRegion : plan.backRegion,
    braces: entry.braces.map((brace, i) => sketchBrace(which, brace, i, plan)),
    patches: plate.patches.map(({ documentPath, name, polygon, thickness }) => ({
      path: documentPath,
      name,
      polygon,
      thickness,
    })),
    hub: hub === undefined ? null : { centre: polygonCentroid(hub.polygon), braces: entry.hub?.braces ?? [] },
  };
}

function sketchBrace(
  plate: "top" | "back",
  entry: PlateEntry["braces"][number],
  index: number,
  plan: BodyPlan,
): SketchBrace {
  const stated = statedBrace(entry);
  const clipped = clipBrace(plate === "top" ? plan.topRegion : plan.backRegion, stated);
  invariant(clipped.ok, () => `brace ${index + 1} of the ${plate} passed the check but lies outside`);
  const start = clipped.value[0]?.start ?? 0;
  const length = (clipped.value.at(-1)?.end ?? start) - start;
  const rows = braceHeights(stated, length);
  invariant(rows.ok, () => `brace ${index + 1} of the ${plate} passed the check but has no heights`);
  return {
    path: `${plate}.braces[${index}]`,
    name: entry.name,
    plate,
    ...stated,
    ends: [entry.ends[0], entry.ends[1]],
    onPlate: [start, start + length],
    heights: Float64Array.from(rows.value.flat()),
    pieces: clipped.value.map(({ from, to, start: s, end }) => ({
      path: Float64Array.of(...from, ...to),
      start: s - start,
      end: end - start,
    })),
  };
}
