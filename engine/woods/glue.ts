import { celsiusZero } from "#engine/units";

/** A quantity known as a range only. */
export interface Range3 {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** What a glue line bears, and when it yields. */
export interface GlueStrength {
  readonly name: string;
  /** Shear of a close side-grain joint on hard wood, short term, near 20 degrees Celsius, dry: Pa. */
  readonly shear: Range3;
  /** Tension across the film of the same joint, Pa. */
  readonly tension: Range3;
  /** Temperature range in which it begins to creep or soften under load, K: the lower end counts. */
  readonly softens: { readonly from: number; readonly to: number };
  readonly note: string;
  readonly source: "common practice, no source" | "from memory";
}

const range = (low: number, likely: number, high: number): Range3 => ({
  low: low * 1e6,
  likely: likely * 1e6,
  high: high * 1e6,
});
const between = (low: number, high: number) => ({ from: celsiusZero + low, to: celsiusZero + high });

/**
 * Glues of the trade, by the document's word for them. A sound joint in softwood breaks in the wood: the line bears the
 * lesser of the glue's figure and the wood's. All from memory, wide; tension across a film is half its shear, assumed.
 */
const glues: Readonly<Record<string, GlueStrength>> = {
  hide: {
    name: "hide glue",
    shear: range(12, 20, 28),
    tension: range(6, 10, 20),
    softens: between(60, 80),
    note: "dry it holds to more; damp and warm together let it go",
    source: "from memory",
  },
  fish: {
    name: "fish glue",
    shear: range(10, 18, 24),
    tension: range(5, 9, 18),
    softens: between(50, 70),
    note: "gives way to damp sooner than hide glue",
    source: "from memory",
  },
  aliphatic: {
    name: "aliphatic (yellow) glue",
    shear: range(12, 20, 27),
    tension: range(6, 10, 20),
    softens: between(50, 65),
    note: "creeps under steady load, warm above all",
    source: "from memory",
  },
  pva: {
    name: "white glue",
    shear: range(10, 17, 24),
    tension: range(5, 8, 18),
    softens: between(40, 55),
    note: "creeps under steady load already at room temperature",
    source: "from memory",
  },
  epoxy: {
    name: "epoxy cured at room temperature",
    shear: range(8, 15, 25),
    tension: range(4, 8, 25),
    softens: between(50, 65),
    note: "softens at its glass transition, which a cure at room temperature keeps low",
    source: "from memory",
  },
};

/** The glue of that word, or null. Short-term values at room temperature; duration and warmth come on top. */
export function glueStrength(name: string): GlueStrength | null {
  return glues[name] ?? null;
}
