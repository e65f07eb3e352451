import { type Facets, facetStrains } from "../../facetForces.ts";
import type { Panel } from "../../panel.ts";
import { plateLayers } from "../../plateLayers.ts";
import type { ShellMesh } from "../../shellMesh.ts";
import { thicknessAt } from "../../thicknessAt.ts";
import type { BodySystem } from "../bodyModel.ts";
import { plateMotion } from "../geometricForces.ts";
import { type NodalStrains, nodalStrains } from "./nodalStrains.ts";
import { type PlateRegions, plateRegions } from "./plateRegions.ts";
import { layerStress, type SheetGauge, sheetGauge } from "./sheetStress.ts";
import type { SheetStress } from "./stressTypes.ts";

/** A plate with all that looking into it after a solution takes. */
export interface PlateGauge {
  readonly which: "top" | "back";
  readonly panel: Panel;
  readonly mesh: ShellMesh;
  readonly facets: Facets;
  readonly regions: PlateRegions;
}

/** Null where there is no such plate. */
export function plateGauge(
  system: BodySystem,
  which: "top" | "back",
  facets: Facets | null,
): PlateGauge | null {
  const mesh = system.mesh[which];
  const panel = system.mesh[which === "top" ? "topPanel" : "backPanel"];
  if (mesh === null || panel === null || facets === null) return null;
  return { which, panel, mesh, facets, regions: plateRegions(system, which, panel, mesh) };
}

/**
 * Strains at the plate's nodes by region (nodalStrains.ts), in its plate frame; the last two of the eight are not the shear
 * strains but the shear forces Qx, Qy, N/m.
 */
export function plateStrains(system: BodySystem, gauge: PlateGauge, motion: Float64Array): NodalStrains {
  const { mesh, facets, regions } = gauge;
  const strains = facetStrains(facets, plateMotion(system, gauge.which, mesh, motion));
  for (const [e, { stiffness: l }] of facets.laminates.entries()) {
    const [gx, gy] = [strains[8 * e + 6], strains[8 * e + 7]];
    strains[8 * e + 6] = l[54] * gx + l[55] * gy;
    strains[8 * e + 7] = l[62] * gx + l[63] * gy;
  }
  return nodalStrains({
    plan: mesh.plan.nodes,
    triangles: mesh.triangles,
    region: regions.ofTriangle,
    strains,
  });
}

/** Extremes of the plate's wood, of its patches and of its finish, each in its own grain axes. */
export function plateSheets(gauge: PlateGauge, found: NodalStrains): SheetStress[] {
  const { panel, mesh, regions, which } = gauge;
  const gauges = new Map<string, SheetGauge>();
  const gaugeOf = (name: string): SheetGauge => {
    const known = gauges.get(name) ?? sheetGauge();
    gauges.set(name, known);
    return known;
  };
  found.node.forEach((node, k) => {
    const region = found.region[k];
    if (region === 0) return;
    const { patches } = regions.regions[region];
    const [x, y] = [mesh.plan.nodes[2 * node], mesh.plan.nodes[2 * node + 1]];
    const layers = plateLayers(
      panel,
      thicknessAt(panel.thickness, x, y),
      patches.map((q) => panel.patches[q]),
    );
    const height = layers.reduce((sum, l) => sum + l.top - l.bottom, 0);
    const at = 8 * k;
    const shear = [found.strains[at + 6], found.strains[at + 7]] as const;
    const names = ["plate", ...patches.map((q) => panel.patches[q].name ?? `patch ${q + 1}`), "finish"];
    layers.forEach((layer, n) => {
      if (names[n] === "finish") return;
      gaugeOf(names[n]).offer({ layer, strains: found.strains, at, shear, height, x, y });
    });
  });
  return [...gauges].map(([name, own]) => own.result(which, name));
}

/**
 * Stresses of the plate's own wood at its nodes, for maps: 6 by node of its mesh, Pa: along, across, shear at the inside face and
 * at the outside face; the mean over the regions that meet at a node, 0 inside blocks.
 */
export function plateStressMap(gauge: PlateGauge, found: NodalStrains): Float64Array {
  const { panel, mesh } = gauge;
  const out = new Float64Array(2 * mesh.nodes.length);
  const met = new Uint32Array(mesh.nodes.length / 3);
  found.node.forEach((node, k) => {
    if (found.region[k] === 0) return;
    const [x, y] = [mesh.plan.nodes[2 * node], mesh.plan.nodes[2 * node + 1]];
    const [layer] = plateLayers(panel, thicknessAt(panel.thickness, x, y), []);
    const faces = [layer.bottom, layer.top].flatMap((z) => layerStress(layer, z, found.strains, 8 * k));
    met[node]++;
    for (let q = 0; q < 6; q++) out[6 * node + q] += (faces[q] - out[6 * node + q]) / met[node];
  });
  return out;
}
