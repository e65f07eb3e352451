import type { StringConstruction, WireName } from "#engine/strings";

/** How a string is made, as the JSON contract has it; diameters in m, of a hexagonal core across its flats. */
export type ConstructionRow =
  | { readonly kind: "plain"; readonly diameterM: number; readonly material: WireName }
  | {
      readonly kind: "wound";
      readonly coreM: number;
      readonly coreShape: "round" | "hex";
      readonly coreMaterial: WireName;
      /** Innermost first. */
      readonly wraps: readonly { readonly diameterM: number; readonly material: WireName }[];
    };

export function constructionRow(c: StringConstruction): ConstructionRow {
  if (c.kind === "plain") return { kind: "plain", diameterM: c.diameter, material: c.material };
  return {
    kind: "wound",
    coreM: c.coreDiameter,
    coreShape: c.coreShape,
    coreMaterial: c.coreMaterial ?? "steel",
    wraps: c.wraps.map(({ diameter, material }) => ({ diameterM: diameter, material })),
  };
}
