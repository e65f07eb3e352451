import { type Layer, plyStiffness, turnedGrowth } from "../../laminate.ts";
import { type Extremes, extremes } from "./extremes.ts";
import type { SheetStress } from "./stressTypes.ts";

/** Stress along, across and in shear (L, R, LR) of a layer at the height z under 8 generalised strains (from `at` on). */
export function layerStress(
  { material, angle }: Layer,
  z: number,
  strains: ArrayLike<number>,
  at: number,
): readonly [along: number, across: number, shear: number] {
  const grown = material.growth === undefined ? ([0, 0, 0] as const) : turnedGrowth(material.growth, angle);
  const ex = strains[at] + z * strains[at + 3] - grown[0];
  const ey = strains[at + 1] + z * strains[at + 4] - grown[1];
  const gxy = strains[at + 2] + z * strains[at + 5] - grown[2];
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const eL = c * c * ex + s * s * ey + c * s * gxy;
  const eR = s * s * ex + c * c * ey - c * s * gxy;
  const gLR = 2 * c * s * (ey - ex) + (c * c - s * s) * gxy;
  const q = plyStiffness(material, 0).re;
  return [q[0] * eL + q[1] * eR, q[3] * eL + q[4] * eR, q[8] * gLR];
}

/** Gathers the extremes of one sheet of wood. */
export interface SheetGauge {
  /** Stress of the layer at both its faces under the strains; `forces` Qx, Qy per metre, `height` of the whole stack. */
  offer(o: {
    readonly layer: Layer;
    readonly strains: ArrayLike<number>;
    readonly at: number;
    readonly shear: readonly [number, number];
    readonly height: number;
    readonly x: number;
    readonly y: number;
  }): void;
  result(part: SheetStress["part"], sheet: string): SheetStress;
}

export function sheetGauge(): SheetGauge {
  const [along, across, shear, through, rolling]: Extremes[] = Array.from({ length: 5 }, extremes);
  return {
    offer: ({ layer, strains, at, shear: [qx, qy], height, x, y }) => {
      for (const z of [layer.bottom, layer.top]) {
        const [l, r, lr] = layerStress(layer, z, strains, at);
        along.offer(l, x, y);
        across.offer(r, x, y);
        shear.offer(lr, x, y);
      }
      const c = Math.cos(layer.angle);
      const s = Math.sin(layer.angle);
      through.offer((1.5 * (c * qx + s * qy)) / height, x, y);
      rolling.offer((1.5 * (c * qy - s * qx)) / height, x, y);
    },
    result: (part, sheet) => ({
      part,
      sheet,
      along: { tension: along.most(), compression: along.least() },
      across: { tension: across.most(), compression: across.least() },
      shear: shear.largest(),
      through: { along: through.largest(), rolling: rolling.largest() },
    }),
  };
}
