import { readFileSync } from "node:fs";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry, stringSet } from "#engine/pipeline";

/** An example instrument by name, its document changed before it is read. */
export function openExample(name: string, change: (document: Record<string, unknown>) => void = () => {}) {
  const text = readFileSync(new URL(`../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  const document = JSON.parse(text) as Record<string, unknown>;
  change(document);
  const checked = checkInstrument(JSON.stringify(document));
  if (!checked.ok) throw new Error(checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n"));
  const { build, plan } = checked;
  const geometry = opened(instrumentGeometry(build, plan));
  return { build, geometry, strings: opened(stringSet(build)) };
}
