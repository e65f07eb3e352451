/** The matrices of a braced, domed guitar top at a wanted number of nodes. */
import { readFileSync } from "node:fs";
import { opened } from "#engine/numerics";
import { type Panel, type PanelSystem, panelMesh, panelSystem, readPanelCase } from "#engine/shells";

export function topPanel(): Panel {
  const text = readFileSync(
    new URL("../proofs/reference/panel-cases/c10_guitar_radial.json", import.meta.url),
    "utf8",
  );
  return opened(readPanelCase(JSON.parse(text))).panel;
}

/** Meshes the panel to within 3 % of `nodes` nodes (which fall with the square of the element size). */
export function topSystem(
  panel: Panel,
  nodes: number,
): { readonly nodes: number; readonly assemble: () => PanelSystem } {
  let size = 0.009 * Math.sqrt(2150 / nodes);
  for (let attempt = 0; ; attempt++) {
    const mesh = opened(panelMesh(panel, size));
    const found = mesh.nodes.length / 3;
    if (Math.abs(found - nodes) < 0.03 * nodes || attempt === 6) {
      return { nodes: found, assemble: () => panelSystem(panel, mesh) };
    }
    size *= Math.sqrt(found / nodes);
  }
}
