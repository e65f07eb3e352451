import { done, failed, type Outcome, type Warning } from "#engine/numerics";
import { airDrag } from "./airDrag.ts";
import type { StringConstruction, StringDesign, WireName } from "./design.ts";
import { wires, woundLoss } from "./materials.data.ts";

/** Values that the maker knows better than the construction tells: weighed kg/m, breaking force N. */
export interface GivenString {
  readonly linearDensity?: number;
  readonly breakingForce?: number;
}

/** Frequency at which the air's drag, which grows with sqrt(f), is turned into the one constant of the loss form, Hz. */
const airReference = 300;

/**
 * Mechanics of a string from its construction. Plain wire: mass, EI and EA of the solid round. Wound: each close-wound
 * layer of round wire adds rho (pi d^2/4) sqrt(path^2 + d^2)/d per length, where the turn's path runs in the middle of
 * the wire around the hull of what lies beneath (perimeter of the core + pi d, + 2 pi d of layers below); the wire is
 * taken as undeformed, which is good to about 5 % (engineering judgement). EI, EA and strength are the core's alone.
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

  const wound = construction.kind === "wound";
  const layers = wound ? wrapLayers(construction.wraps, section) : { mass: 0, diameter: section.width };
  const linearDensity = given.linearDensity ?? core.density * section.area + layers.mass;
  return done(
    {
      linearDensity,
      bendingStiffness: core.stiffness * section.inertia,
      axialStiffness: core.stiffness * section.area,
      breakingForce: given.breakingForce ?? strength * section.area,
      loss: {
        friction: wound ? woundLoss.friction : core.friction,
        bending: wound ? woundLoss.bending : core.bending,
        air: airDrag(layers.diameter, airReference) / linearDensity,
      },
      diameter: layers.diameter,
      spread: {
        linearDensity: given.linearDensity !== undefined ? 0.005 : wound ? 0.05 : 0.015,
        bendingStiffness: 0.06,
        axialStiffness: 0.05,
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
  if (c.wraps.length < 1 || c.wraps.length > 2)
    return ["bad-wraps", `a wound string has one or two wraps, not ${c.wraps.length}`];
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

interface CoreSection {
  readonly area: number;
  /** Second moment of area, m4. */
  readonly inertia: number;
  readonly perimeter: number;
  /** Largest width: across the corners of a hexagon. */
  readonly width: number;
  /** Diameter that the tensile law is read at: a hexagon is drawn from round wire of its own area. */
  readonly wireDiameter: number;
}

function coreSection(c: StringConstruction): CoreSection {
  const d = c.kind === "plain" ? c.diameter : c.coreDiameter;
  if (c.kind === "wound" && c.coreShape === "hex") {
    // across flats d: side a = d/sqrt(3); area (sqrt(3)/2) d^2; I = 5 sqrt(3)/16 a^4 about any axis
    const area = (Math.sqrt(3) / 2) * d * d;
    return {
      area,
      inertia: ((5 * Math.sqrt(3)) / 144) * d ** 4,
      perimeter: 2 * Math.sqrt(3) * d,
      width: (2 * d) / Math.sqrt(3),
      wireDiameter: Math.sqrt((4 * area) / Math.PI),
    };
  }
  return {
    area: (Math.PI / 4) * d * d,
    inertia: (Math.PI / 64) * d ** 4,
    perimeter: Math.PI * d,
    width: d,
    wireDiameter: d,
  };
}

function wrapLayers(
  wraps: readonly { readonly diameter: number; readonly material: WireName }[],
  core: CoreSection,
): { readonly mass: number; readonly diameter: number } {
  let mass = 0;
  let beneath = core.perimeter;
  let diameter = core.width;
  for (const wrap of wraps) {
    const d = wrap.diameter;
    const path = beneath + Math.PI * d;
    mass += wires[wrap.material].density * (Math.PI / 4) * d * Math.hypot(path, d);
    beneath += 2 * Math.PI * d;
    diameter += 2 * d;
  }
  return { mass, diameter };
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
