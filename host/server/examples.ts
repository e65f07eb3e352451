import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { BenchState } from "#host/api";

export interface Example {
  readonly file: string;
  readonly name: string;
  /** One line, from the document's own brief. */
  readonly about: string;
  readonly text: string;
}

/** As seen from host/server, and from a bundle that lies as deep. */
const folder = fileURLToPath(new URL("../../examples/", import.meta.url));

/** The example documents that come with the program, by name. */
export function readExamples(): Example[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith(".fairbout.json"))
    .sort()
    .map((file) => {
      const text = readFileSync(`${folder}${file}`, "utf8");
      const { name, brief } = JSON.parse(text) as {
        readonly name: string;
        readonly brief?: { readonly client?: string; readonly wishes?: string };
      };
      const about = [brief?.client, brief?.wishes].filter((words) => words !== undefined).join(": ");
      return { file, name, about, text };
    });
}

export const exampleLines = (examples: readonly Example[]): BenchState["examples"] =>
  examples.map(({ file, name, about }) => ({ file, name, about }));
