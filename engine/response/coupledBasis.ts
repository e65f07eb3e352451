import { done, failed, type Outcome } from "#engine/numerics";
import type { BodyParts } from "./bodyParts.ts";
import { type CoupledSystem, coupledSystem } from "./coupledSystem.ts";
import { type CrownBasis, crownBasis } from "./crownBasis.ts";

/** The coupled equations and where the crowns stand in them. */
export interface CoupledBasis extends CrownBasis {
  readonly system: CoupledSystem;
}

/**
 * Checks the parts and assembles them, strings (if they are on) as springs between crown and nut: the rim carries the
 * nut, so only the top's bending stretches them. Fails with 'cavity-volume', 'crowns-missing', 'flexibility-size',
 * 'loss-negative', 'crown-outside'.
 */
export function coupledBasis(parts: BodyParts): Outcome<CoupledBasis> {
  const { crowns, cavity, bridgeFlexibility, stringStiffness, top, back } = parts;
  if (!(cavity.volume > 0)) return failed("cavity-volume", `a cavity of ${cavity.volume} m3`);
  if (crowns.length === 0) return failed("crowns-missing", "no crown: the strings have nowhere to act");
  if (bridgeFlexibility.length !== 36 * crowns.length ** 2) {
    return failed("flexibility-size", `${bridgeFlexibility.length} entries for ${crowns.length} crowns`);
  }
  for (const [name, plate] of [["top", top] as const, ["back", back] as const]) {
    const gains = plate.lossFactor.findIndex((eta) => !(eta >= 0));
    if (gains >= 0) {
      return failed(
        "loss-negative",
        `mode ${gains + 1} of the ${name} has the loss factor ${plate.lossFactor[gains]}`,
      );
    }
  }
  const held = parts.rim === "held";
  const n = top.count + back.count + (held ? 0 : 6) + 1;
  const basis = crownBasis(parts, n, held ? null : n - 7);
  if (!basis.ok) return basis;
  const springs = Array.from(stringStiffness ?? [], (stiffness, i) => ({
    stiffness,
    row: basis.value.crowns.slice((3 * i + 2) * n, (3 * i + 3) * n).fill(0, top.count),
  }));
  return done({ ...basis.value, system: coupledSystem(parts, springs) });
}
