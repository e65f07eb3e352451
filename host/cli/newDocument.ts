import { readFileSync, writeFileSync } from "node:fs";
import { nearestWord } from "#engine/units";
import { type Answer, good, refusal } from "./answer.ts";

const examples = ["low-radial", "cross-braced", "small-ladder"] as const;

/** `fairbout new`: a complete document to change by hand. An existing file is never written over. */
export function newDocument(path: string, from: string): Answer {
  const example = examples.find((name) => name === from);
  if (example === undefined) {
    const near = nearestWord(from, examples);
    const hint = near === null ? "" : `; did you mean ${near}?`;
    return refusal(
      path,
      [{ path: "--from", message: `there is no example "${from}": there are ${examples.join(", ")}${hint}` }],
      false,
    );
  }
  if (!path.endsWith(".json")) {
    return refusal(
      path,
      [
        {
          path: "",
          message: "the name of an instrument ends in .fairbout.json",
          example: "my-guitar.fairbout.json",
        },
      ],
      false,
    );
  }
  const text = readFileSync(new URL(`../../examples/${example}.fairbout.json`, import.meta.url), "utf8");
  try {
    writeFileSync(path, text, { flag: "wx" });
  } catch (error) {
    const code = (error as { code?: string }).code;
    const message =
      code === "EEXIST"
        ? "there is such a file already, and it was left as it is; choose another name"
        : `could not be written (${code ?? String(error)})`;
    return refusal(path, [{ path: "", message }], false);
  }
  return good(`${path} written, a copy of ${example} for you to change; then: fairbout check ${path}`);
}
