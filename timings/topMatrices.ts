/** The matrices of example A's top plate at a wanted number of nodes. */
import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry, platePanels } from "#engine/pipeline";
import { type Panel, type PanelSystem, panelMesh, panelSystem } from "#engine/shells";

export function exampleTop(): Panel {
  const text = readFileSync(new URL("../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { plan, board } = opened(instrumentGeometry(checked.build, checked.plan));
  return { ...platePanels(checked.build, plan, board).top, edge: { kind: "hinged" } };
}

/** A mesh of the panel within 10 % of `nodes` nodes or the nearest of three tries, ready to be assembled. */
export function topSystem(
  panel: Panel,
  nodes: number,
): { readonly nodes: number; readonly assemble: () => PanelSystem } {
  let size = 0.0095 * Math.sqrt(2150 / nodes);
  for (let attempt = 0; ; attempt++) {
    const mesh = opened(panelMesh(panel, size));
    const found = mesh.nodes.length / 3;
    if (Math.abs(found - nodes) < 0.1 * nodes || attempt === 2) {
      return { nodes: found, assemble: () => panelSystem(panel, mesh) };
    }
    size *= Math.sqrt(found / nodes);
  }
}
