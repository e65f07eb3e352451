import { boxExcess } from "./blockNodes.ts";
import type { BodyLayout } from "./bodyModel.ts";
import type { BodyShellSpec, Triple } from "./bodySpec.ts";

/** A point mass and the node that carries it on a rigid arm. */
export interface CarriedMass {
  readonly name: string;
  readonly mass: number;
  readonly node: number;
  readonly arm: Triple;
  readonly on: "neck" | "block" | "shell";
}

/** Each point mass on the nearest of neck, block and shell. */
export function massCarriers(spec: BodyShellSpec, layout: BodyLayout): CarriedMass[] {
  const p = layout.places;
  const apart = (node: number, at: Triple): number =>
    Math.hypot(p[3 * node] - at[0], p[3 * node + 1] - at[1], p[3 * node + 2] - at[2]);
  return spec.masses.map(({ name, mass, at }) => {
    let least = Number.POSITIVE_INFINITY;
    let node = 0;
    let on: CarriedMass["on"] = "shell";
    const offer = (distance: number, candidate: number, kind: CarriedMass["on"]): void => {
      if (distance >= least) return;
      least = distance;
      node = candidate;
      on = kind;
    };
    spec.blocks.forEach((box, b) => {
      offer(Math.hypot(...boxExcess(box, at)), layout.blockNode[b], "block");
    });
    for (const k of layout.neckNode) offer(apart(k, at), k, "neck");
    for (let k = 0; k < layout.shellNodes; k++) offer(apart(k, at), k, "shell");
    const carrier = layout.hangsOn[node] >= 0 ? layout.hangsOn[node] : node;
    const arm = [at[0] - p[3 * carrier], at[1] - p[3 * carrier + 1], at[2] - p[3 * carrier + 2]] as const;
    return { name, mass, node: carrier, arm, on };
  });
}
