/** The matrices of example A's whole strung body, at about a wanted number of shell nodes. */
import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { defaultBodySettings, instrumentGeometry, stringSet, strungShell } from "#engine/pipeline";
import { type BodySystem, bodyMesh, bodySystem } from "#engine/shells";

/** `factor` 1 is the default mesh; nodes go about as its square. */
export function exampleBody(factor: number): { readonly nodes: number; readonly assemble: () => BodySystem } {
  const text = readFileSync(new URL("../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const checked = checkInstrument(text);
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const geometry = opened(instrumentGeometry(checked.build, checked.plan));
  const spec = strungShell(checked.build, geometry, opened(stringSet(checked.build)));
  const { top, back, side } = defaultBodySettings.meshSize;
  const mesh = opened(bodyMesh(spec, { top: top / factor, back: back / factor, side: side / factor }));
  return { nodes: mesh.surface.nodes.length / 3, assemble: () => opened(bodySystem(spec, mesh)) };
}
