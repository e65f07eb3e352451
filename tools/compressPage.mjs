import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, gzipSync } from "node:zlib";

/** Lays a brotli and a gzip copy, as small as they get, beside every file of the built page; the server hands those out. */
export function compressPage(folder) {
  for (const name of readdirSync(folder, { recursive: true })) {
    if (!/\.(html|js|mjs|css|json|webmanifest|svg|wasm|txt)$/.test(name)) continue;
    const bytes = readFileSync(join(folder, name));
    writeFileSync(join(folder, `${name}.br`), brotliCompressSync(bytes));
    writeFileSync(join(folder, `${name}.gz`), gzipSync(bytes, { level: 9 }));
  }
}
