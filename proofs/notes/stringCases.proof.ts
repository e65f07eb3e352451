import { readdirSync, readFileSync } from "node:fs";
import { readStringCase, type StringCase, solveStringCase } from "#engine/notes";
import { opened } from "#engine/numerics";
import { proof, type Slips } from "#proofs/harness";

const folder = new URL("../reference/string-cases/", import.meta.url);

interface Reference {
  readonly modes: readonly { readonly frequencyHz: number; readonly q: number }[];
  readonly wolfIndex: number;
  readonly tolerance: { readonly frequencyRel: number; readonly qRel: number; readonly wolfRel: number };
}

function slipped(c: StringCase, slip: Slips): StringCase {
  const loss = slip["loss"] ?? 1;
  const body = Math.sqrt(slip["bodyMass"] ?? 1);
  return {
    ...c,
    string: {
      ...c.string,
      tension: c.string.tension * (slip["tension"] ?? 1),
      linearDensity: c.string.linearDensity * (slip["linearDensity"] ?? 1),
      loss: { friction: c.string.loss.friction * loss, bending: c.string.loss.bending * loss, air: 0 },
    },
    body: {
      ...c.body,
      q: c.body.q.map((q) => q * (slip["bodyQ"] ?? 1)),
      shape: c.body.shape.map((x) => x / body),
    },
  };
}

/** Our margin inside the tolerance of the reference, whose own beam elements err by up to 7e-6 at the top. */
const margin = 10;

for (const file of readdirSync(folder).filter((f) => f.endsWith(".json"))) {
  const json = JSON.parse(readFileSync(new URL(file, folder), "utf8"));
  const { modes, wolfIndex, tolerance }: Reference = json.reference;
  const title: string = json.title;
  const string = opened(readStringCase(json));
  const solve = (slip: Slips) => opened(solveStringCase(slipped(string, slip)));
  const coupled = string.body.omega.length > 0;

  proof(
    `${title}: frequency of every coupled mode, Hz`,
    {
      source: "STRING-CASES",
      quoted: modes.map((m) => m.frequencyHz),
      relTol: tolerance.frequencyRel / margin,
      because: `a tenth of the reference's tolerance: same hysteretic model, exact string instead of beam elements`,
      mustNotice: { tension: 1.0002, linearDensity: 1.0002 },
    },
    (slip) => solve(slip).modes.map((m) => m.frequencyHz),
  );

  proof(
    `${title}: Q of every coupled mode`,
    {
      source: "STRING-CASES",
      quoted: modes.map((m) => m.q),
      relTol: tolerance.qRel / margin,
      because: "a tenth of the reference's tolerance",
      mustNotice: coupled ? { loss: 1.02, bodyQ: 1.02, bodyMass: 1.02 } : { loss: 1.02 },
    },
    (slip) => solve(slip).modes.map((m) => m.q),
  );

  if (coupled)
    proof(
      `${title}: wolf index`,
      {
        source: "STRING-CASES",
        quoted: wolfIndex,
        relTol: tolerance.wolfRel / margin,
        because: "the same definition; quoted to five digits",
        mustNotice: { bodyMass: 1.001, bodyQ: 1.001, tension: 1.001 },
      },
      (slip) => solve(slip).wolfIndex,
    );
}
