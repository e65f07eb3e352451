import { domeHeight } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import type { NeckSpec, NeckStation } from "#engine/shells";
import type { InstrumentGeometry } from "../geometry.ts";
import { type NeckSection, neckSection } from "./neckSection.ts";
import { edgeHeight } from "./rimHeights.ts";

/** Mean width of a head, m (common practice, no source): it only tells how mass divides between shaft and head. */
const headWidth = 0.065;
const stationCount = 9;
/** Loss factors of a neck along the grain and in shear, from memory (hardwoods). */
const lossE = 0.01;
const lossG = 0.02;

type Triple = NeckSpec["from"];

/** Top of the fingerboard where it crosses the body's edge, and where its line runs: body frame. */
export interface BoardLine {
  readonly from: Triple;
  /** Under the nut. */
  readonly to: Triple;
  /** Of the board behind the body's edge: its last place over the body, seen along x. */
  readonly end: number;
}

/** The straight line of the board's surface on the centreline, tilted back by the neck's pitch. */
export function boardLine(build: Build, { plan, board }: InstrumentGeometry): BoardLine {
  const { neck, top, strings } = build;
  const atEdge =
    domeHeight(top.dome, plan.length, 0) -
    edgeHeight(plan, top.dome) +
    top.meanThickness / 2 +
    neck.boardHeight +
    neck.boardThickness;
  const nut = strings.reduce((sum, s) => sum + s.nut[0], 0) / strings.length;
  return {
    from: [plan.length, 0, atEdge],
    to: [nut, 0, atEdge - Math.tan(neck.pitch) * (nut - plan.length)],
    end: Math.min(board.bassEdge[1]![0], board.trebleEdge[1]![0]),
  };
}

/**
 * The neck as a tapered beam on the neck block, its line that of the board's surface, with the head as a rigid mass at
 * the nut and, where the board stands clear of the top, the board's end as a cantilever back over the body. Shaft and head are
 * scaled apart so that both the weight and the centre of mass are those that the document states; where no pair of
 * positive factors does it, one factor for both keeps the weight. The heel's swelling is not in it: the block holds the
 * neck at the body's edge.
 */
export function neckBeam(build: Build, geometry: InstrumentGeometry): NeckSpec {
  const { neck } = build;
  const line = boardLine(build, geometry);
  const length = line.to[0] - line.from[0];
  const sections = Array.from({ length: stationCount }, (_, i) => {
    const s = i / (stationCount - 1);
    return { s, section: neckSectionAt(build, s * length, length) };
  });
  const headMass = neck.wood.density * headWidth * neck.head.thickness * neck.head.length;
  const reach = (neck.head.length / 2) * Math.cos(neck.head.angle);
  const overBody = Math.max(0, line.from[0] - line.end);
  const board = boardAlone(build, neck.widthAtEnd);
  const boardMass = board.massPerLength * overBody;
  const shaft = integral(sections.map(({ s, section }) => [s * length, section.massPerLength] as const));
  const [shaftFactor, headFactor] = massFactors(
    [shaft.mass, shaft.moment],
    [headMass, headMass * (length + reach)],
    [neck.mass - boardMass, neck.mass * neck.centreFromBody + (boardMass * overBody) / 2],
  );
  return {
    from: line.from,
    to: line.to,
    stations: sections.map(({ s, section }) => station(s, section, shaftFactor)),
    lossE,
    lossG,
    headMass: headMass * headFactor,
    headCentre: headCentre(build, line, reach),
    headSize: [neck.head.length, headWidth, neck.head.thickness],
    attach: "neck block",
    tongue:
      neck.boardClear && overBody > 0
        ? {
            to: [line.end, 0, line.from[2] + Math.tan(neck.pitch) * overBody],
            stations: [station(0, board, 1), station(1, board, 1)],
          }
        : null,
  };
}

/** Where tuners and head weigh: half the head's length beyond the nut, along the head. */
export function headCentre(build: Build, line: BoardLine, reach: number): Triple {
  return [line.to[0] + reach, 0, line.to[2] - reach * Math.tan(build.neck.head.angle + build.neck.pitch)];
}

function station(s: number, n: NeckSection, massFactor: number): NeckStation {
  return {
    s,
    EA: n.EA,
    EIz: n.EIUpright,
    EIy: n.EISideways,
    GJ: n.GJ,
    massPerLength: n.massPerLength * massFactor,
    centre: -n.depth,
  };
}

/** Width of the neck and its depth with the board, `toNut` from the nut of a neck `length` long to the body's edge; depth runs straight through its values at frets 1 and 9. */
export function neckSize(
  build: Build,
  length: number,
  toNut: number,
): { readonly width: number; readonly deep: number } {
  const { neck } = build;
  const scale = build.strings.reduce((sum, s) => sum + s.scaleLength, 0) / build.strings.length;
  const fret = (n: number): number => scale * (1 - 2 ** (-n / 12));
  const rise = (neck.depthAtNinth - neck.depthAtFirst) / (fret(9) - fret(1));
  const deep = Math.max(neck.depthAtFirst + rise * (toNut - fret(1)), 0.8 * neck.depthAtFirst);
  const boardLength = length + Math.max(0, fret(build.board.frets) - length);
  const width = neck.widthAtNut + ((neck.widthAtEnd - neck.widthAtNut) * toNut) / boardLength;
  return { width, deep };
}

/** A rod begins so far behind the nut, m (common practice, no source). */
export const rodBehindNut = 0.01;

/** The section `x` from the body's edge with those of `rods` that reach there. */
export function neckSectionAt(
  build: Build,
  x: number,
  length: number,
  rods: Build["neck"]["rods"] = build.neck.rods,
): NeckSection {
  const { width, deep } = neckSize(build, length, length - x);
  const here = rods.filter((rod) => x > length - rod.length - rodBehindNut);
  return neckSection(build.neck, width, deep, here);
}

function boardAlone(build: Build, width: number): NeckSection {
  const { boardWood, boardThickness } = build.neck;
  const area = width * boardThickness;
  return {
    EA: boardWood.EL * area,
    EIUpright: (boardWood.EL * width * boardThickness ** 3) / 12,
    EISideways: (boardWood.EL * boardThickness * width ** 3) / 12,
    // thin strip (Saint-Venant), b t3 / 3
    GJ: (boardWood.GLR * width * boardThickness ** 3) / 3,
    massPerLength: boardWood.density * area,
    depth: boardThickness / 2,
  };
}

/** Mass and first moment of a line density given at points, straight between them. */
function integral(points: readonly (readonly [x: number, density: number])[]): {
  mass: number;
  moment: number;
} {
  let mass = 0;
  let moment = 0;
  for (let i = 0; i + 1 < points.length; i++) {
    const [x0, a] = points[i]!;
    const [x1, b] = points[i + 1]!;
    const h = x1 - x0;
    mass += ((a + b) / 2) * h;
    moment += h * ((x0 * (2 * a + b) + x1 * (a + 2 * b)) / 6);
  }
  return { mass, moment };
}

type Pair = readonly [mass: number, moment: number];

/** Factors f, g with f a + g b = whole in mass and in first moment; both positive, or one factor for the mass alone. */
export function massFactors(a: Pair, b: Pair, whole: Pair): readonly [number, number] {
  const determinant = a[0] * b[1] - b[0] * a[1];
  const f = (whole[0] * b[1] - b[0] * whole[1]) / determinant;
  const g = (a[0] * whole[1] - whole[0] * a[1]) / determinant;
  if (f > 0.2 && g > 0.2) return [f, g];
  const both = whole[0] / (a[0] + b[0]);
  return [both, both];
}
