import { piecewiseLinear } from "#engine/numerics";
import { coreSection } from "../coreSection.ts";
import type { StringConstruction, StringDesign, WireName, WrapLayer } from "../design.ts";
import { designString } from "../designString.ts";

/** A string that can be wound or bought. */
export interface MakeableString {
  readonly construction: StringConstruction;
  readonly design: StringDesign;
  /** False for a wound string whose core is thinner or thicker than is common for its outer diameter. */
  readonly usual: boolean;
}

/** What wound strings are made of, and where plain ones end. */
export interface MakeableKinds {
  readonly wrap: WireName;
  readonly coreShape: "round" | "hex";
  /** Diameter of the heaviest plain string wanted, m: heavier ones are stiff and hard to keep in tune. */
  readonly heaviestPlain: number;
}

const thou = 0.0254e-3;

/** Steps of plain wire, thousandths of an inch. */
const plainGauges = [
  ...Array.from({ length: 13 }, (_, i) => 8 + i / 2),
  ...Array.from({ length: 13 }, (_, i) => 15 + i),
];

/** Core across its flats by outer diameter, thousandths of an inch (common practice, no source). */
const outers = Float64Array.of(18, 24, 32, 42, 53, 70, 100);
const cores = Float64Array.of(10, 12, 13.5, 16, 18, 21, 25);
/** Outer diameters of wound strings; from the second number on they are wrapped twice. */
const [lightestWound, firstDouble, heaviestWound] = [18, 66, 100];
/** Thinnest and thickest wrap wire. */
const wrapRange = [4, 26] as const;

/**
 * The strings to choose from, light to heavy: plain steel of 0.008 to 0.014 inch by half thousandths and to 0.027 by
 * thousandths, wound from 0.018 to 0.100 inch over a steel core that is common for the outer diameter, or one thousandth
 * thinner or thicker, wires in steps of half a thousandth, wrapped twice from 0.066 (common practice, no source).
 */
export function makeableStrings(kinds: MakeableKinds): readonly MakeableString[] {
  const all = new Map<string, MakeableString>();
  const add = (construction: StringConstruction, usual: boolean): void => {
    const design = designString(construction);
    const key = JSON.stringify(construction);
    if (design.ok && !all.get(key)?.usual) all.set(key, { construction, design: design.value, usual });
  };
  for (const g of plainGauges)
    if (g * thou <= kinds.heaviestPlain * (1 + 1e-9))
      add({ kind: "plain", diameter: g * thou, material: "steel" }, true);
  for (let outer = lightestWound; outer <= heaviestWound; outer++)
    for (const off of [-1, 0, 1]) {
      const core = toHalf(piecewiseLinear(outers, cores, outer) + off);
      const bare = {
        kind: "wound",
        coreDiameter: core * thou,
        coreShape: kinds.coreShape,
        wraps: [],
      } as const;
      const count = outer < firstDouble ? 1 : 2;
      const wire = toHalf((outer - coreSection(bare).seat / thou) / (2 * count));
      if (wire < wrapRange[0] || wire > wrapRange[1]) continue;
      const wrap: WrapLayer = { diameter: wire * thou, material: kinds.wrap };
      add({ ...bare, wraps: Array.from({ length: count }, () => wrap) }, off === 0);
    }
  return [...all.values()].sort((a, b) => a.design.linearDensity - b.design.linearDensity);
}

const toHalf = (gauge: number): number => Math.round(2 * gauge) / 2;
