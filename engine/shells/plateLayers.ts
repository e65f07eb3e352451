import type { Layer } from "./laminate.ts";
import type { Panel, PanelPatch } from "./panel.ts";

/** Layers of a plate with patches glued on at a place: the plate first, the patches in their order, the finish last. */
export function plateLayers(panel: Panel, thickness: number, patches: readonly PanelPatch[]): Layer[] {
  const layers: Layer[] = [
    { material: panel.wood, angle: panel.grainAngle, bottom: -thickness / 2, top: thickness / 2 },
  ];
  let out = thickness / 2;
  let inside = -thickness / 2;
  for (const p of patches) {
    if (p.side === "outside") {
      layers.push({ material: p.wood, angle: p.grainAngle, bottom: out, top: out + p.thickness });
      out += p.thickness;
    } else {
      layers.push({ material: p.wood, angle: p.grainAngle, bottom: inside - p.thickness, top: inside });
      inside -= p.thickness;
    }
  }
  if (panel.film !== null && out === thickness / 2) {
    layers.push({ material: panel.film.material, angle: 0, bottom: out, top: out + panel.film.thickness });
  }
  return layers;
}
