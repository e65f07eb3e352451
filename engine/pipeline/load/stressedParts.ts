import type { Build } from "#engine/instrument";
import { boardEnd } from "../platePanels.ts";

/** What a stressed sheet or brace is called, and its wood by the table's name (null: the document names no species). */
export interface StressedPart {
  readonly name: string;
  readonly species: string | null;
}

type Plate = "top" | "back";

/** The species of the wood at a place in the document, "top.wood"; null where none is named. */
export function speciesAt(build: Build, path: string): string | null {
  return build.species.find((s) => s.path === path)?.species ?? null;
}

/** A brace by its name. Throws where there is no such brace: our own mistake. */
export function stressedBrace(build: Build, plate: Plate, rib: string): StressedPart {
  const brace = build[plate].braces.find((b) => b.name === rib);
  if (brace === undefined) throw new Error(`stressedBrace: no brace "${rib}" on the ${plate}`);
  return { name: `${rib} (${plate})`, species: speciesAt(build, `${brace.documentPath}.wood`) };
}

/** A sheet of a plate or of the sides by what the stresses call it: "plate", a patch's name, "ply 1". Throws as `stressedBrace`. */
export function stressedSheet(build: Build, part: Plate | "sides", sheet: string): StressedPart {
  if (part === "sides") {
    const ply = Number(/^ply (\d+)$/.exec(sheet)?.[1]) - 1;
    const own = `sides.plies[${ply}].wood`;
    const path = build.species.some((s) => s.path === own) ? own : "sides.wood";
    return { name: `sides, ${sheet}`, species: speciesAt(build, path) };
  }
  if (sheet === "plate") return { name: part, species: speciesAt(build, `${part}.wood`) };
  if (sheet === boardEnd) return { name: boardEnd, species: speciesAt(build, "fingerboard.wood") };
  const patches = [
    ...build[part].patches,
    ...(part === "top" ? [...build.bridge.patches, build.bridgePlate] : []),
  ];
  const patch = patches.find((p) => p?.name === sheet);
  if (patch == null) throw new Error(`stressedSheet: no "${sheet}" on the ${part}`);
  return { name: sheet, species: speciesAt(build, `${patch.documentPath}.wood`) };
}
