import type { Growth, Movement, Panel } from "../../panel.ts";
import type { BodySystem } from "../bodyModel.ts";
import type { BodyShellSpec, LiningSpec } from "../bodySpec.ts";

/** Change of the woods' state against that in which the body was glued up. */
export interface ClimateChange {
  /** Of the moisture content, fraction of the dry mass. */
  readonly moisture: number;
  /** K */
  readonly temperature: number;
}

/**
 * The same body with every wood grown as its movement tells: of top, back, sides, linings, patches, braces. What has no movement
 * (finish, rods, and the solid blocks and the neck, which the model has as rigid or as a line) keeps its size. The stiffness
 * stays that of the glued-up body.
 */
export function grownBody(system: BodySystem, change: ClimateChange): BodySystem {
  const { spec, mesh } = system;
  const panel = (p: Panel | null): Panel | null => (p === null ? null : grownPanel(p, change));
  return {
    ...system,
    spec: grownSpec(spec, change),
    mesh: { ...mesh, topPanel: panel(mesh.topPanel), backPanel: panel(mesh.backPanel) },
  };
}

function grownSpec(spec: BodyShellSpec, change: ClimateChange): BodyShellSpec {
  const lining = (l: LiningSpec | null): LiningSpec | null =>
    l === null ? null : { ...l, material: grown(l.material, change) };
  return {
    ...spec,
    top: spec.top === null ? null : grownPanel(spec.top, change),
    back: spec.back === null ? null : grownPanel(spec.back, change),
    sides:
      spec.sides === null
        ? null
        : {
            ...spec.sides,
            plies: spec.sides.plies.map((ply) => ({ ...ply, material: grown(ply.material, change) })),
            topLining: lining(spec.sides.topLining),
            backLining: lining(spec.sides.backLining),
          },
  };
}

function grownPanel(panel: Panel, change: ClimateChange): Panel {
  return {
    ...panel,
    wood: grown(panel.wood, change),
    patches: panel.patches.map((patch) => ({ ...patch, wood: grown(patch.wood, change) })),
    ribs: panel.ribs.map((rib) => ({ ...rib, material: grown(rib.material, change) })),
  };
}

function grown<M extends { readonly movement?: Movement; readonly growth?: Growth }>(
  material: M,
  { moisture, temperature }: ClimateChange,
): M {
  const { movement } = material;
  if (movement === undefined) return material;
  return {
    ...material,
    growth: {
      along: movement.moisture.along * moisture + movement.heat.along * temperature,
      across: movement.moisture.across * moisture + movement.heat.across * temperature,
    },
  };
}
