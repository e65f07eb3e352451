import type { Facets } from "../../facetForces.ts";
import { facetStrains } from "../../facetForces.ts";
import type { BodySystem } from "../bodyModel.ts";
import { bodyFacets, bodyForces } from "../geometricForces.ts";
import { sideLayers } from "../rimPiece.ts";
import type { NodalStrains } from "./nodalStrains.ts";
import { type PlateGauge, plateGauge, plateSheets, plateStrains, plateStressMap } from "./plateStress.ts";
import { ribStresses } from "./ribStress.ts";
import { sheetGauge } from "./sheetStress.ts";
import type { BodyStress, RodStress, SheetStress } from "./stressTypes.ts";

/** What looking into a body after a solution takes, made once for many solutions. */
export interface BodyGauge {
  readonly system: BodySystem;
  readonly facets: ReturnType<typeof bodyFacets>;
  readonly top: PlateGauge | null;
  readonly back: PlateGauge | null;
}

export function bodyGauge(system: BodySystem): BodyGauge {
  const facets = bodyFacets(system);
  return {
    system,
    facets,
    top: plateGauge(system, "top", facets.top),
    back: plateGauge(system, "back", facets.back),
  };
}

/** Strains at the nodes of both plates (plateStrains), null where there is no plate. */
export interface BodyStrains {
  readonly top: NodalStrains | null;
  readonly back: NodalStrains | null;
}

/** Strains of both plates under `motion`, to be found once for stresses, maps and glue line. */
export function bodyStrains({ system, top, back }: BodyGauge, motion: Float64Array): BodyStrains {
  const of = (plate: PlateGauge | null): NodalStrains | null =>
    plate === null ? null : plateStrains(system, plate, motion);
  return { top: of(top), back: of(back) };
}

/**
 * Stresses in every part under `motion` (all motions of the layout, as `bodyStatic` gives them). Plates: from strains recovered at
 * the nodes (nodalStrains.ts), at both faces of every sheet, in its grain axes; braces: at the middles of their elements; sides:
 * at the middles of their triangles. Where stiffness changes at once (edges of bridge and blocks, ends of braces, rim of the
 * hole) the greatest value still grows slowly on finer meshes: good to about a fifth there.
 */
export function bodyStress(
  gauge: BodyGauge,
  motion: Float64Array,
  strains: BodyStrains = bodyStrains(gauge, motion),
): BodyStress {
  const { system, facets } = gauge;
  const forces = bodyForces(system, motion, facets);
  const plates = [gauge.top, gauge.back].filter((plate) => plate !== null);
  const rods = system.spec.rods.map((rod, r): RodStress => {
    const axial = forces.rods[r];
    const force = axial.reduce((sum, v) => sum + v, 0) / axial.length;
    return { rod: rod.name, force, stress: force / ((Math.PI / 4) * (rod.diameter ** 2 - rod.bore ** 2)) };
  });
  return {
    sheets: [
      ...plates.flatMap((plate) => {
        const own = strains[plate.which];
        return own === null ? [] : plateSheets(plate, own);
      }),
      ...(facets.side === null ? [] : sideSheets(system, facets.side, motion)),
    ],
    ribs: plates.flatMap((plate) => ribStresses(plate, forces[plate.which]?.ribs ?? [])),
    rods,
  };
}

/** Stress maps of both plates (plateStressMap), null where there is no plate. */
export function bodyStressMaps(
  { top, back }: BodyGauge,
  strains: BodyStrains,
): { readonly top: Float64Array | null; readonly back: Float64Array | null } {
  const map = (plate: PlateGauge | null): Float64Array | null => {
    const own = plate === null ? null : strains[plate.which];
    return plate === null || own === null ? null : plateStressMap(plate, own);
  };
  return { top: map(top), back: map(back) };
}

function sideSheets({ spec }: BodySystem, facets: Facets, motion: Float64Array): SheetStress[] {
  if (spec.sides === null) return [];
  const layers = sideLayers(spec.sides).slice(0, spec.sides.plies.length);
  const height = layers.reduce((sum, l) => sum + l.top - l.bottom, 0);
  const strains = facetStrains(facets, motion);
  const gauges = layers.map(() => sheetGauge());
  for (const [e, { stiffness: l }] of facets.laminates.entries()) {
    const at = 8 * e;
    const [gx, gy] = [strains[at + 6], strains[at + 7]];
    const shear = [l[54] * gx + l[55] * gy, l[62] * gx + l[63] * gy] as const;
    const [x, y] = [0, 1].map((q) =>
      [0, 1, 2].reduce((sum, c) => sum + facets.nodes[3 * facets.triangles[3 * e + c] + q] / 3, 0),
    );
    for (const [k, layer] of layers.entries()) gauges[k].offer({ layer, strains, at, shear, height, x, y });
  }
  return gauges.map((gauge, k) => gauge.result("sides", `ply ${k + 1}`));
}
