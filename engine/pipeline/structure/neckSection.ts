import type { Build, BuildNeckRod } from "#engine/instrument";
import { compositeSection, rectangleLayer, roundBackLayer } from "#engine/shells";
import { neckBack } from "./neckBack.ts";

/** The neck's own beam at one place: stiffness and mass of its section about its elastic centre. */
export interface NeckSection {
  /** N */ readonly EA: number;
  /** Bending in the plane of strings and centreline, N m2. */ readonly EIUpright: number;
  /** Bending sideways, N m2. */ readonly EISideways: number;
  /** N m2 */ readonly GJ: number;
  /** kg/m */ readonly massPerLength: number;
  /** Elastic centre below the top of the fingerboard, m. */
  readonly depth: number;
}

/** Young's modulus of a carbon-fibre bar along its fibres, Pa: pultruded bars lie at 110 to 150 GPa (CFRP-A, a range). */
const carbonStiffness = 125e9;
const carbonDensity = 1550;
/** Steel: handbook values. */
const steelStiffness = 200e9;
const steelDensity = 7850;

/**
 * Section of the neck where it is `width` wide and `deep` with its board: the solid back that the profile makes (an ellipse
 * where it says nothing) under a flat board, bars at their depth under the board in the place of wood; plane sections stay
 * plane over all of it. Torsion: the ellipse of the same width and depth, G of the neck's wood.
 */
export function neckSection(
  neck: Build["neck"],
  width: number,
  deep: number,
  rods: readonly BuildNeckRod[],
): NeckSection {
  const { wood, boardWood, boardThickness } = neck;
  const half = width / 2;
  const whole = compositeSection([
    rectangleLayer(boardWood.EL, boardWood.density, width, boardThickness, 0),
    roundBackLayer(wood.EL, wood.density, neckBack(neck, width, deep), boardThickness),
    ...rods.map((rod) => {
      const [E, density] =
        rod.kind === "carbon" ? [carbonStiffness, carbonDensity] : [steelStiffness, steelDensity];
      // an adjustable rod lies loose in its slot: its mass counts, its stiffness only through its tension (not here)
      const gained = (rod.kind === "adjustable" ? 0 : E) - wood.EL;
      const top = boardThickness + rod.axisDepth - rod.height / 2;
      return rectangleLayer(gained, density - wood.density, rod.width, rod.height, top);
    }),
  ]);
  const b = deep / 2;
  return {
    EA: whole.EA,
    EIUpright: whole.EIUpright,
    EISideways: whole.EISideways,
    GJ: (wood.GLR * Math.PI * half ** 3 * b ** 3) / (half ** 2 + b ** 2),
    massPerLength: whole.massPerLength,
    depth: whole.depth,
  };
}
