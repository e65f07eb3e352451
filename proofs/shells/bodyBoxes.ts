import { opened, quiet } from "#engine/numerics";
import {
  type BodyModes,
  type BodyShellSpec,
  type BodySystem,
  bodyMesh,
  bodyModes,
  bodySystem,
} from "#engine/shells";
import { wasmKernels } from "#kernels";
import { bare, isotropic, rectangle } from "./testPlates.ts";

/** A closed rectangular box of one isotropic material, nothing inside; sizes between mid-surfaces. */
export interface PlainBox {
  readonly length: number;
  readonly width: number;
  readonly depth: number;
  readonly thickness: number;
  readonly E: number;
  readonly nu: number;
  readonly density: number;
}

export function plainBox(b: PlainBox): BodyShellSpec {
  const t = b.thickness;
  const wood = isotropic(b.E, b.nu, b.density);
  // the outer outline lies half a thickness outside the side's mid-surface
  const outline = rectangle(b.length + t, b.width + t);
  const plate = bare(outline, wood, t, { kind: "free" });
  return {
    top: plate,
    back: plate,
    heights: { depthAtTail: b.depth - t, depthAtNeck: b.depth - t, length: b.length + t },
    sides: {
      outline,
      plies: [{ material: wood, thickness: t, grainAngle: 0 }],
      film: null,
      topLining: null,
      backLining: null,
      open: [],
    },
    blocks: [],
    neck: null,
    rods: [],
    masses: [],
    springs: [],
    support: "free",
  };
}

export function bodyOf(spec: BodyShellSpec, size: number): BodySystem {
  return opened(bodySystem(spec, opened(bodyMesh(spec, { top: size, back: size, side: size }))));
}

/** Modes up to a frequency, Hz. */
export function modesTo(system: BodySystem, frequency: number): BodyModes {
  return opened(bodyModes(system, [], frequency, { ...quiet, kernels: wasmKernels }));
}

export const hertz = (modes: BodyModes): number[] => Array.from(modes.omega, (w) => w / (2 * Math.PI));
