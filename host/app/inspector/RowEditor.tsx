import type { Json } from "../bench/index.ts";
import { type EditorProps, useEditor } from "./editor.ts";
import { rowNames } from "./fieldNames.ts";
import { LeaveOut, Unsaid } from "./GroupEditor.tsx";
import type { Shape } from "./shape.ts";

/** Values in a row: a place in plan, both ends, both half axes. */
export function RowEditor({
  path,
  keys,
  name,
  shape,
  value,
  optional,
  quiet = false,
}: EditorProps & { readonly shape: Shape & { readonly is: "row" } }) {
  const Editor = useEditor();
  if (value === undefined && optional) return <Unsaid path={path} keys={keys} name={name} shape={shape} />;
  const values = Array.isArray(value) ? (value as readonly Json[]) : [];
  const names = rowNames(keys.at(-1) ?? "", shape.about);
  return (
    <fieldset className={`row${quiet ? " quiet" : ""}`}>
      <legend className={quiet ? "unseen" : "name"}>{name}</legend>
      {shape.items.map((item, i) => (
        <Editor
          // a row's places never change
          key={i}
          path={`${path}[${i}]`}
          keys={keys}
          name={capital(names[i === 0 ? 0 : 1])}
          shape={item}
          value={values[i]}
          optional={false}
          holder={value ?? []}
        />
      ))}
      {optional ? <LeaveOut path={path} name={name} /> : null}
    </fieldset>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
