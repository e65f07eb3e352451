/** Writes docs/instrument.schema.json from the schema of the engine: node tools/run.mjs tools/schema.ts */
import { writeFileSync } from "node:fs";
import { instrumentJsonSchema } from "#engine/instrument";

const target = new URL("../docs/instrument.schema.json", import.meta.url);
writeFileSync(target, `${JSON.stringify(instrumentJsonSchema(), null, 2)}\n`);
