import { opened, quiet } from "#engine/numerics";
import {
  type EdgeSupport,
  type Panel,
  type PlyMaterial,
  panelMesh,
  panelModes,
  panelSystem,
} from "#engine/shells";

/** A rectangle with a corner at the origin, m. */
export const rectangle = (a: number, b: number): Float64Array => Float64Array.of(0, 0, a, 0, a, b, 0, b);

const even = (loss: number) => ({ L: loss, R: loss, LR: loss, transverse: loss });

/** Isotropic material; `shear` multiplies the transverse shear moduli (1e4: a thin-plate theory without shear). */
export function isotropic(E: number, nu: number, density: number, shear = 1, loss = 0): PlyMaterial {
  const G = E / (2 * (1 + nu));
  return { density, EL: E, ER: E, nuLR: nu, GLR: G, GLT: shear * G, GRT: shear * G, loss: even(loss) };
}

export function bare(outline: Float64Array, wood: PlyMaterial, thickness: number, edge: EdgeSupport): Panel {
  return {
    outline,
    holes: [],
    dome: null,
    wood,
    thickness,
    grainAngle: 0,
    ribs: [],
    patches: [],
    film: null,
    edge,
  };
}

/** Held like a clamped edge along the outline's stretch left out of `open` (an elastic edge with very stiff springs). */
export function clampedExcept(open: readonly Float64Array[], rotation: number, inPlane: number): EdgeSupport {
  return { kind: "elastic", rotation, normal: inPlane, tangential: inPlane, open };
}

export function modesOf(panel: Panel, size: number, count: number) {
  const system = panelSystem(panel, opened(panelMesh(panel, size)));
  return { system, modes: opened(panelModes(system, count, quiet)) };
}

/**
 * Frequency parameters omega a^2 sqrt(rho h / D) of a square plate of side 1 with D = rho h = 1 and h = `thickness`.
 * Slips: stiffness, density and thickness factors.
 */
export function squareParameters(
  edge: EdgeSupport,
  count: number,
  size: number,
  slip: Readonly<Record<string, number>>,
  thickness = 0.002,
): number[] {
  const nu = 0.3;
  const E = ((12 * (1 - nu * nu)) / thickness ** 3) * (slip["stiffness"] ?? 1);
  const wood = isotropic(E, nu, (slip["density"] ?? 1) / thickness);
  const { modes } = modesOf(
    bare(rectangle(1, 1), wood, thickness * (slip["thickness"] ?? 1), edge),
    size,
    count,
  );
  return Array.from(modes.omega);
}
