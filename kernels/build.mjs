/**
 * Compiles kernels/assembly/NAME.ts to WebAssembly and writes it as text into kernels/NAME.artefact.ts.
 *
 *   node kernels/build.mjs            all of them
 *   node kernels/build.mjs NAME ...   these
 *   node kernels/build.mjs --check    writes nothing; fails if an artefact is not what its source compiles to
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { main } from "assemblyscript/asc";

const folder = fileURLToPath(new URL(".", import.meta.url));

async function artefactOf(name) {
  let binary = null;
  const { error, stderr } = await main(
    [
      `${name}.ts`,
      "--baseDir",
      join(folder, "assembly"),
      "--outFile",
      "out.wasm",
      "-O3",
      "--noAssert",
      "--runtime",
      "stub",
      "--importMemory",
      "--enable",
      "simd",
    ],
    {
      writeFile: (file, contents) => {
        if (file.endsWith(".wasm")) binary = contents;
      },
    },
  );
  if (error !== null || binary === null)
    throw new Error(`${name}.ts does not compile:\n${stderr.toString()}`);
  const lines = Buffer.from(binary)
    .toString("base64")
    .match(/.{1,100}/g)
    .map((line) => `  "${line}"`)
    .join(" +\n");
  return (
    `/** Compiled from kernels/assembly/${name}.ts by \`npm run kernels\`: never edited by hand. */\n` +
    `export const ${name}Artefact =\n${lines};\n`
  );
}

const given = process.argv.slice(2);
const check = given.includes("--check");
const wanted = given.filter((name) => name !== "--check");
const all = readdirSync(join(folder, "assembly"))
  .filter((file) => file.endsWith(".ts"))
  .map((file) => file.slice(0, -3));
const stale = [];
for (const name of wanted.length > 0 ? wanted : all) {
  const text = await artefactOf(name);
  const file = join(folder, `${name}.artefact.ts`);
  let before = "";
  try {
    before = readFileSync(file, "utf8");
  } catch {
    // not there yet
  }
  if (before === text) continue;
  stale.push(name);
  if (!check) writeFileSync(file, text);
}
if (stale.length > 0) process.stdout.write(`${check ? "stale" : "written"}: ${stale.join(", ")}\n`);
if (check && stale.length > 0) process.exitCode = 1;
