import type { Build } from "#engine/instrument";

/** A value that the hand may move, and how finely it is prepared. */
export interface LiveParameter {
  /** Path in the document. */
  readonly id: string;
  /** Factors on the nominal value between which the prepared model was made. */
  readonly low: number;
  readonly high: number;
  /** Factors at which the changed elements are computed; interpolated between. */
  readonly knots: readonly number[];
  readonly corrections: number;
  readonly probes: number;
  readonly borrows: string | null;
  readonly sees: readonly string[];
}

/**
 * All that may be moved: heights and widths of braces, thickness and wood of the plates, bridge, size of the hole. Braces of
 * one plate may be moved together; what belongs to a whole plate is exact alone.
 */
export function liveParameters(build: Build): readonly LiveParameter[] {
  const out: LiveParameter[] = [];
  for (const which of ["top", "back"] as const) {
    const braces = [...new Set(build[which].braces.map((b) => b.documentPath))];
    const heights = braces.map((path) => `${path}.height`);
    for (const path of braces) {
      const height = `${path}.height`;
      const sees = heights.filter((id) => id !== height);
      out.push({
        id: height,
        low: 0.5,
        high: 1.5,
        knots: [0.6, 0.8, 1.4],
        corrections: 10,
        probes: 3,
        borrows: null,
        sees,
      });
      out.push({
        id: `${path}.width`,
        low: 0.6,
        high: 1.6,
        knots: [0.7, 1.4],
        corrections: 0,
        probes: 0,
        borrows: height,
        sees,
      });
    }
    const alone = { borrows: null, sees: [] };
    out.push({
      id: `${which}.thickness`,
      low: 0.75,
      high: 1.25,
      knots: [0.8, 0.9, 1.2],
      corrections: 18,
      probes: 4,
      ...alone,
    });
    for (const key of ["stiffnessAlong", "stiffnessAcross", "shearInPlane"]) {
      out.push({
        id: `${which}.wood.${key}`,
        low: 0.7,
        high: 1.35,
        knots: [0.75, 1.3],
        corrections: 8,
        probes: 2,
        ...alone,
      });
    }
    out.push({
      id: `${which}.wood.density`,
      low: 0.7,
      high: 1.35,
      knots: [1.3],
      corrections: 6,
      probes: 2,
      ...alone,
    });
  }
  for (const [id, knots] of [
    ["bridge.thickness", [0.7, 1.3]],
    ["bridge.mass", [1.4]],
  ] as const) {
    out.push({ id, low: 0.6, high: 1.5, knots, corrections: 6, probes: 2, borrows: null, sees: [] });
  }
  return out;
}

/** The hole: no part of the structure, so that it has no term in the reduced model. A factor on its length and breadth. */
export const holeParameter = { id: "soundHole.size", low: 0.8, high: 1.2 } as const;

/**
 * Values with a spread that nobody moves by hand: one knot each, on the modes alone, for ranges. Loss factors need none: what
 * they do is told by the stiffness they belong to (`lossOf`).
 */
export function rangeParameters(build: Build): readonly LiveParameter[] {
  const moved = new Set(liveParameters(build).map(({ id }) => id));
  return build.uncertain.flatMap(({ path, value, spread }): LiveParameter[] => {
    if (moved.has(path) || lossOf(path) !== null) return [];
    const step = Math.max(0.02, (2 * spread) / Math.abs(value));
    return [
      {
        id: path,
        low: 1 - step,
        high: 1 + step,
        knots: [1 + step],
        corrections: 0,
        probes: 0,
        borrows: null,
        sees: [],
      },
    ];
  });
}

/** The stiffnesses whose energy a loss factor takes its share of ("top.wood.lossAlong"); null for any other path. */
export function lossOf(path: string): readonly string[] | null {
  const found = /^(.*)\.loss(Along|Across|Shear|Through)$/.exec(path);
  if (found === null) return null;
  const keys = {
    Along: ["stiffnessAlong"],
    Across: ["stiffnessAcross"],
    Shear: ["shearInPlane"],
    Through: ["shearAlongThrough", "shearAcrossThrough"],
  }[found[2] as "Along" | "Across" | "Shear" | "Through"];
  return keys.map((key) => `${found[1]}.${key}`);
}
