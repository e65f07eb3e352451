import { type Coupling, type StructureParts, turnedStructure } from "#engine/response";

type OuterBasis = NonNullable<Coupling["system"]["outside"]>;

/**
 * The coupled equations on some of the structure's columns, the air's coordinates all kept; matrices are fresh copies. Of the
 * listeners the first is kept: the one whom the note board asks.
 */
export function activeCoupling({ system: c, top }: Coupling, columns: Uint32Array): Coupling {
  const { n, structureCount: p } = c;
  const kept = Uint32Array.from([...columns, ...Array.from({ length: n - p }, (_, i) => p + i)]);
  const square = (a: Float64Array): Float64Array => gathered(a, kept, kept, n);
  const rows = (a: Float64Array): Float64Array => gathered(a, every(a.length / n), kept, n);
  const outside = c.outside && heardAtOne(c.outside, n);
  const turned = turnedStructure({ ...c, outside }, kept.length, rows, square);
  const system = {
    ...turned,
    structureCount: columns.length,
    rows: { ...turned.rows, structure: gathered(c.rows.structure, columns, kept, n) },
  };
  return {
    system,
    top: {
      motions: columns.length,
      lift: new Float64Array(0),
      flow: gathered(top.flow, every(3), columns, p),
      // integrals over the thirds are not asked for while a hand moves
      product: new Float64Array(0),
    },
  };
}

function heardAtOne(air: OuterBasis, n: number): OuterBasis {
  const rows = Uint32Array.from(air.frequencies, (_, f) => f * air.listeners);
  const lines = (a: Float64Array): Float64Array => gathered(a, rows, every(n), n);
  return {
    ...air,
    pressureRe: lines(air.pressureRe),
    pressureIm: lines(air.pressureIm),
    listeners: 1,
    travel: air.travel.subarray(0, 1),
  };
}

/** The parts behind it: the body told by the same columns. `pointResidual`: what those columns lack. */
export function activeParts(
  parts: StructureParts,
  columns: Uint32Array,
  pointResidual: Float64Array,
): StructureParts {
  const { body, matrices } = parts;
  const { rigidCount: r, count } = body;
  const p = r + count;
  const elastic = columns.subarray(r).map((c) => c - r);
  const width = body.points.length / p;
  return {
    ...parts,
    body: {
      ...body,
      count: columns.length - r,
      omega: Float64Array.from(elastic, (c) => body.omega[c]!),
      points: gathered(body.points, columns, every(width), width),
      energyShare: gathered(body.energyShare, elastic, every(4), 4),
      loss: gathered(body.loss, elastic, elastic, count),
      volume: gathered(body.volume, columns, every(3), 3),
      pointResidual,
    },
    matrices: matrices && {
      stiffness: gathered(matrices.stiffness, columns, columns, p),
      mass: gathered(matrices.mass, columns, columns, p),
    },
  };
}

function every(count: number): Uint32Array {
  return Uint32Array.from({ length: count }, (_, i) => i);
}

function gathered(a: Float64Array, rows: Uint32Array, columns: Uint32Array, width: number): Float64Array {
  const out = new Float64Array(rows.length * columns.length);
  for (let i = 0, at = 0; i < rows.length; i++) {
    const from = rows[i]! * width;
    for (let j = 0; j < columns.length; j++) out[at++] = a[from + columns[j]!]!;
  }
  return out;
}
