import { type Json, useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { EntryLine } from "./EntryLine.tsx";
import { type EditorProps, useEditor } from "./editor.ts";
import { Faults } from "./Faults.tsx";
import { Fold } from "./Fold.tsx";
import { setField, valueAt } from "./fieldDeeds.ts";
import { fieldId } from "./focusField.ts";
import { GroupFields, groupWords, LeaveOut, Unsaid } from "./GroupEditor.tsx";
import { formOf, type GroupShape, type Shape } from "./shape.ts";
import { startingValue } from "./startingValue.ts";
import { useRefusal } from "./useField.ts";

type FormsProps = EditorProps & { readonly shape: Shape & { readonly is: "forms" } };

/** A value that may be of more than one kind: a wood by its name or as a board, a thickness or a map of it, a fret or "bridge". */
export function FormsEditor(props: FormsProps) {
  const { shape, value, optional, path, keys, name } = props;
  const group = shape.forms.find((form): form is GroupShape => form.is === "group");
  if (group === undefined) return <EitherEntry {...props} />;
  if (value === undefined && optional) return <Unsaid path={path} keys={keys} name={name} shape={shape} />;
  return <OrGroup {...props} group={group} />;
}

/** A number or one of a few words, in one line. */
function EitherEntry({ path, name, shape, value, optional, quiet = false }: FormsProps) {
  const word = shape.forms.find((form) => form.is === "word");
  const words = word?.is === "word" ? word.words.join('", "') : "";
  const told = { ...shape, allowed: shape.allowed === "" ? `a number, or "${words}"` : shape.allowed };
  return <EntryLine path={path} label={name} shape={told} value={value} optional={optional} quiet={quiet} />;
}

/** Plain, or as a group that says more. */
function OrGroup({
  path,
  keys,
  name,
  shape,
  value,
  optional,
  group,
}: FormsProps & { readonly group: GroupShape }) {
  const Editor = useEditor();
  const refusal = useRefusal(`${path} form`);
  const form = value === undefined ? null : formOf(shape, value);
  const plain = shape.forms.find((other) => other.is !== "group");
  const wood = group.members.some(({ key }) => key === "species");
  const set = (next: Json): void => {
    const document = useBench.getState().open?.document;
    if (document !== undefined) void refusal.watch(setField(document, path, next));
  };
  const faults = refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />;
  if (form?.is !== "group")
    return (
      <div className="forms">
        {plain === undefined ? null : (
          <Editor {...{ path, keys, name, value, optional }} shape={plain} holder={value ?? null} />
        )}
        <Button
          kind="quiet"
          sign="plus"
          onPress={() => {
            const document = useBench.getState().open?.document ?? {};
            set(wood ? { species: typeof value === "string" ? value : "" } : spotMap(value, group, document));
          }}
        >
          {wood ? "Say more of this board" : "Map it by caliper spots"}
          <span className="unseen">: {name}</span>
        </Button>
        {faults}
      </div>
    );
  const back = wood ? boardAsName(value) : meanThickness(value);
  const lost = wood ? Object.keys((value ?? {}) as object).length - 1 : 0;
  return (
    <Fold path={path} name={name} beside={groupWords(value ?? null)}>
      <GroupFields path={path} keys={keys} shape={group} value={value} />
      {back === null ? null : (
        <Button kind="quiet" sign="minus" onPress={() => set(back)}>
          {wood
            ? `By its species alone${lost > 0 ? `, without these ${lost} values` : ""}`
            : `One thickness: ${back}`}
          <span className="unseen">: {name}</span>
        </Button>
      )}
      {faults}
      {optional ? <LeaveOut path={path} name={name} /> : null}
      <span id={fieldId(`${path}.species`)} />
    </Fold>
  );
}

function boardAsName(value: Json | undefined): string | null {
  const species = (value as { readonly species?: Json } | undefined)?.species;
  return typeof species === "string" ? species : null;
}

/** The first spot's reading stands for all: a mean would claim a digit that nobody read. */
function meanThickness(value: Json | undefined): string | null {
  const first = valueAt((value ?? null) as Json, "spots[0].thickness");
  return typeof first === "string" ? first : null;
}

/** Three spots of the thickness that there was: on the lower bout's middle and on both its sides. */
function spotMap(value: Json | undefined, group: GroupShape, document: Json): Json {
  const known =
    typeof value === "object" && value !== null ? (value as { readonly [key: string]: Json }) : {};
  const thickness = typeof value === "string" ? value : (known["value"] ?? "2.8 mm");
  const start = startingValue(group) as { readonly [key: string]: Json };
  const station = valueAt(document, "outline.lowerBout.station");
  const along = typeof station === "string" ? station : "150 mm";
  const places = [
    [along, "0 mm"],
    [along, "90 mm"],
    [along, "-90 mm"],
  ];
  const spread =
    typeof known["spread"] === "string" && !known["spread"].includes("%") ? known["spread"] : start["spread"];
  return {
    ...start,
    spots: places.map((at) => ({ at, thickness })),
    ...(spread === undefined ? {} : { spread }),
  };
}
