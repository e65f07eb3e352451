import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Plugin } from "vite";

/** Writes /sw.js beside the built page: `pageKeeper.js` with this build's files, under a version that changes with any of them. */
export function keepPage(): Plugin {
  let folder = "";
  return {
    name: "fairbout-keep-page",
    apply: "build",
    configResolved({ root, build }) {
      folder = resolve(root, build.outDir);
    },
    closeBundle() {
      const names = readdirSync(folder, { recursive: true, encoding: "utf8" })
        .map((name) => name.replaceAll("\\", "/"))
        .filter((name) => statSync(join(folder, name)).isFile())
        .filter((name) => name !== "sw.js" && name !== "built-from" && !/\.(map|br|gz)$/.test(name))
        .sort();
      const digest = createHash("sha256");
      for (const name of names) digest.update(`${name}\n`).update(readFileSync(join(folder, name)));
      const files = names.map((name) => (name === "index.html" ? "/" : `/${name}`));
      writeFileSync(join(folder, "sw.js"), keeperSource(digest.digest("hex").slice(0, 16), files));
    },
  };
}

const template = new URL("./pageKeeper.js", import.meta.url);

function keeperSource(version: string, files: readonly string[]): string {
  return readFileSync(template, "utf8")
    .replace('const version = "";', `const version = ${JSON.stringify(version)};`)
    .replace("const files = [];", `const files = ${JSON.stringify(files)};`);
}
