/** SciPy's eigsh on the same matrices, in a process of its own with one thread. */
import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { SparseSymmetric } from "#engine/numerics";

export interface TheirRun {
  readonly wall: number;
  readonly cpu: number;
  readonly factor: number | null;
  readonly values: readonly number[];
  readonly scipy: string;
}

/** Null where python3 with scipy is missing. sigma: eigsh's shift, in the unit of lambda. */
export function theirRun(
  file: string,
  count: number,
  tolerance: number,
  way: "best" | "default",
  sigma: number,
): TheirRun | null {
  const script = fileURLToPath(new URL("eigsh.py", import.meta.url));
  const one = Object.fromEntries(["OMP", "OPENBLAS", "MKL"].map((lib) => [`${lib}_NUM_THREADS`, "1"]));
  const run = spawnSync("python3", [script, file, `${count}`, `${tolerance}`, way, `${sigma}`], {
    encoding: "utf8",
    env: { ...process.env, ...one },
  });
  if (run.error !== undefined || /No module named/.test(run.stderr)) return null;
  if (run.status !== 0) throw new Error(`eigsh.py failed: ${run.stderr}`);
  return JSON.parse(run.stdout);
}

/** Writes K and M where eigsh.py can read them; returns the file's name. */
export function writeMatrices(k: SparseSymmetric, m: SparseSymmetric): string {
  const folder = new URL("../.out/", import.meta.url);
  mkdirSync(folder, { recursive: true });
  const file = fileURLToPath(new URL("eigen-matrices.bin", folder));
  const parts: Uint8Array[] = [];
  const put = (a: Uint32Array | Float64Array): void => {
    parts.push(new Uint8Array(a.buffer, a.byteOffset, a.byteLength));
  };
  for (const a of [k, m]) {
    put(Uint32Array.of(a.n, a.values.length));
    put(a.colStart);
    put(a.rowIndex);
    put(a.values);
  }
  writeFileSync(file, Buffer.concat(parts));
  return file;
}
