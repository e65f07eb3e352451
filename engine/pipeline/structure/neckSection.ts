import type { Build, BuildNeckRod } from "#engine/instrument";

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

interface Layer {
  readonly EA: number;
  /** About its own centre. */
  readonly EIUpright: number;
  readonly EISideways: number;
  readonly mass: number;
  /** Centre below the top of the board. */
  readonly depth: number;
}

/**
 * Section of the neck where it is `width` wide and `deep` with its board: a half ellipse of neck wood under a flat board
 * (common practice, no source), bars beside each other right under the board, taking the place of wood; plane sections
 * stay plane over all of it. Torsion: the ellipse of the same width and depth, G of the neck's wood.
 */
export function neckSection(
  neck: Build["neck"],
  width: number,
  deep: number,
  rods: readonly BuildNeckRod[],
): NeckSection {
  const { wood, boardWood, boardThickness } = neck;
  const under = Math.max(deep - boardThickness, 0.2 * deep);
  const half = width / 2;
  const layers: Layer[] = [
    block(boardWood.EL, boardWood.density, width, boardThickness, 0),
    {
      EA: wood.EL * (Math.PI / 2) * half * under,
      EIUpright: wood.EL * (Math.PI / 8 - 8 / (9 * Math.PI)) * half * under ** 3,
      EISideways: wood.EL * (Math.PI / 8) * under * half ** 3,
      mass: wood.density * (Math.PI / 2) * half * under,
      depth: boardThickness + (4 * under) / (3 * Math.PI),
    },
    ...rods.map((rod) => {
      const [E, density] =
        rod.kind === "carbon" ? [carbonStiffness, carbonDensity] : [steelStiffness, steelDensity];
      // an adjustable rod lies loose in its slot: its mass counts, its stiffness only through its tension (not here)
      const gained = (rod.kind === "adjustable" ? 0 : E) - wood.EL;
      return block(gained, density - wood.density, rod.width, rod.height, boardThickness);
    }),
  ];
  const EA = layers.reduce((sum, l) => sum + l.EA, 0);
  const depth = layers.reduce((sum, l) => sum + l.EA * l.depth, 0) / EA;
  const b = deep / 2;
  return {
    EA,
    EIUpright: layers.reduce((sum, l) => sum + l.EIUpright + l.EA * (l.depth - depth) ** 2, 0),
    EISideways: layers.reduce((sum, l) => sum + l.EISideways, 0),
    GJ: (wood.GLR * Math.PI * half ** 3 * b ** 3) / (half ** 2 + b ** 2),
    massPerLength: layers.reduce((sum, l) => sum + l.mass, 0),
    depth,
  };
}

function block(E: number, density: number, width: number, height: number, top: number): Layer {
  return {
    EA: E * width * height,
    EIUpright: (E * width * height ** 3) / 12,
    EISideways: (E * height * width ** 3) / 12,
    mass: density * width * height,
    depth: top + height / 2,
  };
}
