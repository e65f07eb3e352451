import type { Build } from "#engine/instrument";
import type { BodyShellSpec, LiningSpec, Movement, PanelPatch, PanelRib } from "#engine/shells";
import { catalogueWood } from "#engine/woods";
import { boardEnd } from "../platePanels.ts";
import { speciesAt } from "./stressedParts.ts";

/** Moisture content at which the cell walls are full (WH-MOIST): total shrinkage is spread evenly below it. */
const fibreSaturation = 0.3;
/** Shrinkage along the grain from green to dry: 0.1 to 0.2 % for sound wood, WH-MOIST, from memory. */
const alongTotal = 0.0015;
/** Expansion by heat along the grain, 1/K: 3.1 to 4.5e-6 for all woods, WH ch. 4, from memory. */
const heatAlong = 3.8e-6;

/** Which way the growth rings lie to the plane of the part: on the quarter R lies in it, on the flat T. */
type Cut = "quarter" | "flat" | "between";

/**
 * Movement of a species in the plane of a part: shrinkage WH-T43 by cut, evenly below 30 %; along the grain and by heat from memory
 * (WH: radial (32.4 G + 9.9)e-6, tangential (32.4 G + 18.4)e-6 per K). Null for a wood without species or not tabulated.
 */
export function woodMovement(species: string | null, cut: Cut): Movement | null {
  const record = species === null ? undefined : catalogueWood(species)?.record;
  if (record === undefined || record.shrinkage === null) return null;
  const { radial, tangential } = record.shrinkage;
  // specific gravity of the dry wood from the density at 12 %
  const gravity = record.density.value / 1120;
  const byCut = (r: number, t: number): number => ({ quarter: r, flat: t, between: (r + t) / 2 })[cut];
  return {
    moisture: {
      along: alongTotal / fibreSaturation,
      across: byCut(radial.value, tangential.value) / fibreSaturation,
    },
    heat: {
      along: heatAlong,
      across: 1e-6 * byCut(32.4 * gravity + 9.9, 32.4 * gravity + 18.4),
    },
  };
}

/** The structure with the movement of its woods, and the parts of which none is known. */
export interface MovingShell {
  readonly spec: BodyShellSpec;
  readonly unknown: readonly string[];
}

/**
 * Plates, patches and bridge are taken as cut on the quarter (their ER is that of the radius); braces stand on the quarter, so
 * that T lies across them; linings and sides lie between.
 */
export function movingShell(build: Build, spec: BodyShellSpec): MovingShell {
  const unknown: string[] = [];
  const moving = <M extends { readonly movement?: Movement }>(material: M, path: string, cut: Cut): M => {
    const movement = woodMovement(speciesAt(build, path), cut);
    if (movement !== null) return { ...material, movement };
    unknown.push(path);
    return material;
  };
  const patchPath = (which: "top" | "back", { name }: PanelPatch): string => {
    if (name === boardEnd) return "fingerboard.wood";
    const all = [
      ...build[which].patches,
      ...(which === "top" ? [...build.bridge.patches, build.bridgePlate] : []),
    ];
    return `${all.find((p) => p?.name === name)?.documentPath ?? name}.wood`;
  };
  const ribPath = (which: "top" | "back", { name }: PanelRib): string =>
    `${build[which].braces.find((b) => b.name === name)?.documentPath ?? name}.wood`;
  const plate = (which: "top" | "back"): BodyShellSpec["top"] => {
    const panel = spec[which];
    return panel === null
      ? null
      : {
          ...panel,
          wood: moving(panel.wood, `${which}.wood`, "quarter"),
          patches: panel.patches.map((p) => ({ ...p, wood: moving(p.wood, patchPath(which, p), "quarter") })),
          ribs: panel.ribs.map((r) => ({ ...r, material: moving(r.material, ribPath(which, r), "flat") })),
        };
  };
  const lining = (l: LiningSpec | null, path: string): LiningSpec | null =>
    l === null ? null : { ...l, material: moving(l.material, path, "between") };
  const plyPath = (k: number): string => {
    const own = `sides.plies[${k}].wood`;
    return build.species.some((s) => s.path === own) ? own : "sides.wood";
  };
  const { sides } = spec;
  return {
    spec: {
      ...spec,
      top: plate("top"),
      back: plate("back"),
      sides:
        sides === null
          ? null
          : {
              ...sides,
              plies: sides.plies.map((ply, k) => ({
                ...ply,
                material: moving(ply.material, plyPath(k), "between"),
              })),
              topLining: lining(sides.topLining, "sides.topLining.wood"),
              backLining: lining(sides.backLining, "sides.backLining.wood"),
            },
    },
    unknown: [...new Set(unknown)],
  };
}
