import { ChoiceEditor } from "./ChoiceEditor.tsx";
import { EntryLine } from "./EntryLine.tsx";
import type { EditorProps } from "./editor.ts";
import { FormsEditor } from "./FormsEditor.tsx";
import { fieldId } from "./focusField.ts";
import { GroupEditor } from "./GroupEditor.tsx";
import { useGrounds } from "./grounds.ts";
import { ListEditor } from "./ListEditor.tsx";
import { RowEditor } from "./RowEditor.tsx";
import { UncertainField } from "./UncertainField.tsx";
import { WordField } from "./WordField.tsx";

/** The editor that fits a value's shape. */
export function ValueEditor(props: EditorProps) {
  const { path, name, shape, value, optional, quiet = false } = props;
  const assumed = useGrounds((grounds) => grounds.assumed[path]);
  const taken = value === undefined && assumed !== undefined ? assumed.value : undefined;
  switch (shape.is) {
    case "quantity":
    case "number":
    case "text":
    case "day":
      return (
        <EntryLine
          path={path}
          label={name}
          shape={shape}
          value={value}
          optional={optional}
          assumed={taken}
          quiet={quiet}
        />
      );
    case "word":
      return (
        <WordField path={path} label={name} shape={shape} value={value} optional={optional} assumed={taken} />
      );
    case "uncertain":
      return <UncertainField path={path} label={name} shape={shape} value={value} optional={optional} />;
    case "fixed":
      return (
        <div className="entry" id={fieldId(path)}>
          <span className="name">{name}</span>
          <span className="typed">{shape.value}</span>
        </div>
      );
    case "group":
      return <GroupEditor {...props} shape={shape} />;
    case "row":
      return <RowEditor {...props} shape={shape} />;
    case "list":
      return <ListEditor {...props} shape={shape} />;
    case "choice":
      return <ChoiceEditor {...props} shape={shape} />;
    case "forms":
      return <FormsEditor {...props} shape={shape} />;
  }
}
