import { FileTrigger } from "react-aria-components/FileTrigger";
import { limits } from "#host/api";
import { benchDeeds, type EditAnswer } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { useRefusal } from "./useRefusal.tsx";

/** Opens an instrument's document, or a file with everything, as a new instrument: nothing on the bench is replaced. */
export function OpenFile() {
  const { refusal, tell } = useRefusal();
  return (
    <div className="way">
      <h2>Open a file</h2>
      <p>
        An instrument's document (<code>.fairbout.json</code>), or a file with everything that another bench
        saved. It is added; nothing here is replaced.
      </p>
      <FileTrigger
        onSelect={(files) => {
          const file = files?.[0];
          if (file !== undefined) void tell(taken(file));
        }}
      >
        <Button>Choose a file</Button>
      </FileTrigger>
      {refusal}
    </div>
  );
}

/** A document begins with a brace; anything else is tried as a file with everything. */
async function taken(file: File): Promise<EditAnswer> {
  const head = await file.slice(0, 64).text();
  if (!/^\uFEFF?\s*\{/.test(head)) return benchDeeds.bringIn(file);
  if (file.size > limits.document)
    return {
      ok: false,
      issues: [
        {
          code: "too-large",
          path: "",
          message: `${file.name} has ${(file.size / 1e6).toFixed(0)} MB.`,
          allowed: `up to ${limits.document / 1e6} MB`,
        },
      ],
    };
  return benchDeeds.begin(await file.text(), `opened from ${file.name}`.slice(0, 300));
}
