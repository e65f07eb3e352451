import type { Build } from "#engine/instrument";
import type { BodyStress, PlacedStress, RibStress, SheetStress } from "#engine/shells";
import type { StressEntry } from "#engine/verdicts";
import type { PlateMeans } from "./meanStress.ts";
import { type StressedPart, speciesAt, stressedBrace, stressedSheet } from "./stressedParts.ts";

/**
 * Glue that is taken where the document speaks of none but the bridge's: hide glue, common practice, no source. In softwood the wood
 * gives before any glue of the table.
 */
const braceGlue = "hide";

/**
 * Every stress of the body with the wood that bears it, for `margins`. Firm: the plates in the mean over discs of 20 mm,
 * braces along their length, their glue in the mean. Peaks: single points of plates, patches and sides (the sides are hardest
 * pressed against the blocks, which the model has rigid), ends of braces and their glue.
 */
export function stressEntries(build: Build, stress: BodyStress, means: PlateMeans): readonly StressEntry[] {
  const plates = (["top", "back"] as const).flatMap((which) => {
    const mean = means[which];
    if (mean === null) return [];
    const at = entryOf(stressedSheet(build, which, "plate"), false);
    return [...inPlane(at, mean), at("shear-along", mean.shear)];
  });
  return [
    ...plates,
    ...stress.sheets.flatMap((sheet) => ofSheet(stressedSheet(build, sheet.part, sheet.sheet), sheet)),
    ...stress.ribs.flatMap((rib) => ofRib(build, rib)),
  ];
}

type Normal = Pick<SheetStress, "along" | "across">;
type EntryAt = (kind: StressEntry["kind"], at: PlacedStress) => StressEntry;

function inPlane(at: EntryAt, { along, across }: Normal): StressEntry[] {
  return [
    at("bending-along", along.tension),
    at("compression-along", along.compression),
    at("tension-across", across.tension),
    at("compression-across", across.compression),
  ];
}

function ofSheet(part: StressedPart, sheet: SheetStress): StressEntry[] {
  const at = entryOf({ ...part, name: `${part.name}, at a point` }, true);
  return [
    ...inPlane(at, sheet),
    at("shear-along", larger(sheet.shear, sheet.through.along)),
    at("rolling-shear", sheet.through.rolling),
  ];
}

function ofRib(build: Build, rib: RibStress): StressEntry[] {
  const part = stressedBrace(build, rib.plate, rib.rib);
  const at = entryOf(part, false);
  const glued: Pick<StressEntry, "woods" | "glue"> = {
    woods: [part.species, speciesAt(build, `${rib.plate}.wood`)],
    glue: braceGlue,
  };
  const { mean, peak } = rib.glue;
  const end = { part: `${part.name}, end`, peak: true, ...glued };
  return [
    at("bending-along", larger(rib.glued.tension, rib.free.tension)),
    at("compression-along", larger(rib.glued.compression, rib.free.compression)),
    at("shear-along", rib.shear),
    { part: part.name, kind: "glue-shear", stress: mean, place: null, peak: false, ...glued },
    { ...at("glue-shear", peak), peak: true, ...glued },
    ...rib.ends.flatMap(({ x, y, shear, peel }): StressEntry[] => [
      { ...end, kind: "glue-shear", stress: Math.abs(shear), place: { x, y } },
      { ...end, kind: "glue-peel", stress: Math.max(0, peel), place: { x, y } },
    ]),
  ];
}

/** The same part in many ways; the size of the stress counts. */
function entryOf({ name, species }: StressedPart, peak: boolean): EntryAt {
  return (kind, { value, x, y }) => ({
    part: name,
    kind,
    stress: Math.abs(value),
    place: { x, y },
    woods: [species],
    glue: null,
    peak,
  });
}

function larger(a: PlacedStress, b: PlacedStress): PlacedStress {
  return Math.abs(b.value) > Math.abs(a.value) ? b : a;
}
