import { inUnit } from "#engine/units";
import { benchDeeds, useBench } from "../bench/index.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Select } from "../kit/index.ts";
import type { EditorProps } from "./editor.ts";
import { Faults } from "./Faults.tsx";
import { Fold } from "./Fold.tsx";
import { placeNames } from "./fieldDeeds.ts";
import { shownWord } from "./fieldNames.ts";
import { fieldId } from "./focusField.ts";
import { GroupFields, groupWords, LeaveOut, Unsaid } from "./GroupEditor.tsx";
import { kindOf, type Shape } from "./shape.ts";
import { switchedValue } from "./startingValue.ts";
import { type DrawnPlan, switchHints } from "./switchHints.ts";
import { useRefusal } from "./useField.ts";

/** One of several forms of the same thing; another can be chosen, and starts from what was there. */
export function ChoiceEditor({
  path,
  keys,
  name,
  shape,
  value,
  optional,
  holder,
  quiet = false,
}: EditorProps & { readonly shape: Shape & { readonly is: "choice" } }) {
  const refusal = useRefusal(`${path}.kind`);
  if (value === undefined) return <Unsaid path={path} keys={keys} name={name} shape={shape} />;
  const kind = kindOf(value);
  const group = shape.forms.find((form) => form.kind === kind)?.group;
  const change = (to: string): void => {
    if (to === kind) return;
    const hints = switchHints(keys, value, to, holder, drawnPlan());
    const next = switchedValue(shape, value, to, hints);
    const names = placeNames(useBench.getState().open?.document ?? {}, path).join(", ");
    void refusal.watch(
      benchDeeds.edit([{ path, value: next }], `${names}: ${shownWord(kind ?? "")} to ${shownWord(to)}`),
    );
  };
  const fields = (
    <>
      <div className="entry word" id={quiet ? undefined : `${fieldId(path)}-kind`}>
        <Select
          label="Kind"
          value={kind}
          options={shape.forms.map((form) => ({ id: form.kind, label: shownWord(form.kind) }))}
          onChange={change}
        />
      </div>
      {refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />}
      {group === undefined ? null : (
        <GroupFields path={path} keys={keys} shape={group} value={value} without={["kind"]} />
      )}
    </>
  );
  if (quiet) return fields;
  return (
    <Fold path={path} name={name} beside={groupWords(value)} startsOpen={(group?.members.length ?? 0) <= 3}>
      {fields}
      {optional ? <LeaveOut path={path} name={name} /> : null}
    </Fold>
  );
}

function drawnPlan(): DrawnPlan | null {
  const sketch = useDesk.getState().sketch.value;
  return sketch === null
    ? null
    : { fullOutlineMm: Array.from(sketch.fullOutline, (metres) => inUnit(metres, "mm")) };
}
