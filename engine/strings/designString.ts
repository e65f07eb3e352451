import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import { airDrag, airReference } from "./airDrag.ts";
import { coreSection } from "./coreSection.ts";
import type { StringConstruction, StringDesign, WireName } from "./design.ts";
import { wires, woundLoss } from "./materials.data.ts";
import { wrapLayers } from "./wrapLayers.ts";

/** Values that the maker knows better than the construction tells: weighed kg/m, breaking force N. */
export interface GivenString {
  readonly linearDensity?: number;
  readonly breakingForce?: number;
}

/** Drawn wire is within this of its nominal diameter, m, one standard deviation: a half of the tolerance of A228 (memory). */
const diameterSpread = 2.5e-6;
/** Scatter of published unit weights about wrapLayers (proofs/strings/construction.proof.ts). */
const wrapSpread = 0.02;

/**
 * Mechanics of a string from its construction. Plain wire: mass, EI and EA of the solid round. Wound: the core's, and what
 * its close-wound layers add (`wrapLayers`); it breaks by its core alone.
 * Fails with "bad-diameter", "bad-wraps", "bad-given" or "no-strength" (the core is of a wire whose strength is not known).
 */
export function designString(
  construction: StringConstruction,
  given: GivenString = {},
): Outcome<StringDesign> {
  const fault = constructionFault(construction) ?? givenFault(given);
  if (fault !== null) return failed(fault[0], fault[1]);
  const material: WireName =
    construction.kind === "plain" ? construction.material : (construction.coreMaterial ?? "steel");
  const core = wires[material];
  const section = coreSection(construction);
  const warnings: Warning[] = [];
  if (core.tensile === null && given.breakingForce === undefined)
    return failed(
      "no-strength",
      `no strength is known for ${material}; give the breaking force, or a core of steel`,
    );
  const strength =
    core.tensile === null ? 0 : tensileStrength(core.tensile, section.wireDiameter, material, warnings);

  const wraps = construction.kind === "wound" ? construction.wraps : [];
  const wound = wraps.length > 0;
  const layers = wrapLayers(wraps, section.seat);
  const linearDensity = given.linearDensity ?? core.density.value * section.area + layers.mass;
  const drawn = diameterSpread / section.wireDiameter;
  const wrapDrawn = wraps.map(({ diameter }) => diameterSpread / diameter);
  return done(
    {
      linearDensity,
      bendingStiffness: core.stiffness.value * section.inertia + layers.bendingStiffness,
      axialStiffness: core.stiffness.value * section.area + layers.axialStiffness,
      breakingForce: given.breakingForce ?? strength * section.area,
      loss: {
        friction: wound ? woundLoss.friction : core.friction,
        bending: wound ? woundLoss.bending : core.bending,
        air: airDrag(layers.diameter, airReference) / linearDensity,
      },
      diameter: layers.diameter,
      spread: {
        linearDensity:
          given.linearDensity !== undefined
            ? 0.005
            : wound
              ? Math.hypot(wrapSpread, 0.01, 2 * Math.max(...wrapDrawn))
              : Math.hypot(core.density.spread, 2 * drawn),
        bendingStiffness: Math.hypot(core.stiffness.spread, 4 * drawn),
        axialStiffness: Math.hypot(core.stiffness.spread, 2 * drawn),
        breakingForce: given.breakingForce !== undefined ? 0.03 : 0.1,
        lossFactor: 2,
      },
    },
    warnings,
  );
}

/** Smallest and largest diameter taken for a wire, m: outside it a unit was mistaken. */
const wireRange = [0.05e-3, 3e-3] as const;

function constructionFault(c: StringConstruction): readonly [string, string] | null {
  const say = (what: string, d: number) =>
    d >= wireRange[0] && d <= wireRange[1]
      ? null
      : ([
          "bad-diameter",
          `the ${what} is ${d} m across; a string's wire is between ${wireRange[0]} m and ${wireRange[1]} m`,
        ] as const);
  if (c.kind === "plain") return say("wire", c.diameter);
  if (c.wraps.length < 1 || c.wraps.length > 3)
    return ["bad-wraps", `a wound string has one to three wraps, not ${c.wraps.length}`];
  return (
    say("core", c.coreDiameter) ??
    c.wraps.map((w) => say("wrap wire", w.diameter)).find((f) => f !== null) ??
    null
  );
}

function givenFault(given: GivenString): readonly [string, string] | null {
  for (const [name, value] of Object.entries(given) as [string, number | undefined][])
    if (value !== undefined && !(value > 0 && Number.isFinite(value)))
      return ["bad-given", `the given ${name} is ${value}; it must be a positive number`];
  return null;
}

function tensileStrength(
  law: { readonly coefficient: number; readonly exponent: number; readonly range: readonly [number, number] },
  diameter: number,
  material: WireName,
  warnings: Warning[],
): number {
  if (diameter < law.range[0] || diameter > law.range[1])
    warnings.push({
      code: "strength-extrapolated",
      detail: `the strength of ${material} is known for wire from ${law.range[0]} to ${law.range[1]} m, not for ${diameter} m`,
    });
  return law.coefficient * (diameter / 1e-3) ** -law.exponent;
}
