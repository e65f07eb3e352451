import { type Json, useBench } from "../bench/index.ts";
import { Select } from "../kit/index.ts";
import { Faults } from "./Faults.tsx";
import { setField } from "./fieldDeeds.ts";
import { shownWord } from "./fieldNames.ts";
import { fieldId } from "./focusField.ts";
import type { Shape } from "./shape.ts";
import { useRefusal } from "./useField.ts";

const nothing = "(not said)";

/** One of a few words. */
export function WordField({
  path,
  label,
  shape,
  value,
  optional,
  assumed,
}: {
  readonly path: string;
  readonly label: string;
  readonly shape: Shape & { readonly is: "word" };
  readonly value: Json | undefined;
  readonly optional: boolean;
  readonly assumed?: string | undefined;
}) {
  const refusal = useRefusal(path);
  const options = shape.words.map((word) => ({ id: word, label: shownWord(word) }));
  const unsaid = {
    id: nothing,
    label: assumed === undefined ? "not said" : `not said: ${shownWord(assumed)}`,
  };
  const about = shape.about.replace(/ if not said$/, "");
  return (
    <div className="entry word" id={fieldId(path)}>
      <Select
        label={label}
        value={typeof value === "string" ? value : nothing}
        options={optional ? [unsaid, ...options] : options}
        onChange={(word) => {
          const document = useBench.getState().open?.document;
          if (document !== undefined)
            void refusal.watch(setField(document, path, word === nothing ? undefined : word));
        }}
        {...(about === "" || about.toLowerCase() === label.toLowerCase() ? {} : { help: about })}
      />
      {refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />}
    </div>
  );
}
