import { type BodyPlan, polygonArea, polylineLength } from "#engine/geometry";
import type { Build } from "#engine/instrument";
import { rib } from "../platePanels.ts";

/**
 * The top's bending stiffness sqrt(D1 D2) (N m) and mass per area (kg/m2) with its braces smeared over it: each brace adds
 * its stiffness about the common neutral line, shared out over the mean spacing, by cos^4 and sin^4 of its angle to the grain.
 */
export function topMean({ top }: Build, plan: BodyPlan): { stiffness: number; massPerArea: number } {
  const { wood, meanThickness: t } = top;
  const area = plan.areas.top;
  const nuRL = (wood.nuLR * wood.ER) / wood.EL;
  const flat = (E: number): number => (E * t ** 3) / (12 * (1 - wood.nuLR * nuRL));
  let [along, across] = [flat(wood.EL), flat(wood.ER)];
  let mass = wood.density * t + (top.film?.massPerArea ?? 0);
  const total = top.braces.reduce((sum, brace) => sum + polylineLength(brace.path), 0);
  const spacing = total > 0 ? area / total : 1;
  for (const brace of top.braces) {
    const { path, width, heights, material } = rib(brace);
    const length = polylineLength(path);
    const height = heights.reduce((sum, [, h]) => sum + h, 0) / heights.length;
    const angle = Math.atan2(path[3]! - path[1]!, path[2]! - path[0]!) - top.grainAngle;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const E = wood.EL * c ** 4 + wood.ER * s ** 4;
    const share = 1 / (1 + (material.EL * width * height) / (E * t * spacing));
    const bending =
      material.EL * width * (height ** 3 / 12 + (height * (height + t) ** 2 * share) / 4) * (length / area);
    along += bending * c ** 4;
    across += bending * s ** 4;
    mass += (material.density * width * height * length) / area;
  }
  for (const { polygon, thickness, wood: own } of top.patches) {
    mass += (own.density * thickness * Math.abs(polygonArea(polygon))) / area;
  }
  return { stiffness: Math.sqrt(along * across), massPerArea: mass };
}
