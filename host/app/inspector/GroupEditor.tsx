import { type Json, useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { type EditorProps, useEditor } from "./editor.ts";
import { Faults } from "./Faults.tsx";
import { Fold } from "./Fold.tsx";
import { setField, shortValue } from "./fieldDeeds.ts";
import { fieldName } from "./fieldNames.ts";
import { fieldId } from "./focusField.ts";
import { useGrounds } from "./grounds.ts";
import type { GroupShape, Member, Shape } from "./shape.ts";
import { startFor } from "./startFor.ts";
import { today } from "./today.ts";
import { useRefusal } from "./useField.ts";

/** More fields than this that say nothing go behind one fold. */
const mostUnsaid = 2;

/** The fields of a group that is there: what is said first, what is not said behind it. */
export function GroupFields({
  path,
  keys,
  shape,
  value,
  without = [],
}: {
  readonly path: string;
  readonly keys: readonly string[];
  readonly shape: GroupShape;
  readonly value: Json | undefined;
  /** Members that are shown elsewhere. */
  readonly without?: readonly string[];
}) {
  const Editor = useEditor();
  const group = (value ?? {}) as { readonly [key: string]: Json };
  const shown = shape.members.filter(({ key }) => !without.includes(key));
  const said = shown.filter(({ key, optional }) => !optional || group[key] !== undefined);
  const unsaid = shown.filter((member) => !said.includes(member));
  const editor = ({ key, optional, shape: inner }: Member) => {
    const lead = [...keys, key];
    return (
      <Editor
        key={key}
        path={path === "" ? key : `${path}.${key}`}
        keys={lead}
        name={fieldName(lead)}
        shape={inner}
        value={group[key]}
        optional={optional}
        holder={value ?? {}}
      />
    );
  };
  return (
    <div className="fields">
      {said.map(editor)}
      {unsaid.length <= mostUnsaid ? (
        unsaid.map(editor)
      ) : (
        <Fold path={`${path}.*`} name={`${unsaid.length} more, not said`} beside={names(lead(unsaid, keys))}>
          <div className="fields">{unsaid.map(editor)}</div>
        </Fold>
      )}
    </div>
  );
}

const lead = (members: readonly Member[], keys: readonly string[]): readonly string[] =>
  members.map(({ key }) => fieldName([...keys, key]));

function names(all: readonly string[]): string {
  const first = all.slice(0, 3).join(", ");
  return all.length > 3 ? `${first} ...` : first;
}

/** A group inside another: small ones stand open, larger ones fold. One that may be left out can be added and left out. */
export function GroupEditor({
  path,
  keys,
  name,
  shape,
  value,
  optional,
}: EditorProps & { readonly shape: GroupShape }) {
  if (value === undefined) return <Unsaid path={path} keys={keys} name={name} shape={shape} />;
  const small = leaves(shape) <= 3;
  return (
    <Fold path={path} name={name} startsOpen={small} beside={groupWords(value)}>
      <About words={shape.about} name={name} />
      <GroupFields path={path} keys={keys} shape={shape} value={value} />
      {optional ? <LeaveOut path={path} name={name} /> : null}
    </Fold>
  );
}

/** What a part is, unless its name says so already. */
export function About({ words, name }: { readonly words: string; readonly name: string }) {
  const rest = words.toLowerCase().startsWith(name.toLowerCase())
    ? words.slice(name.length).replace(/^[;:,]? */, "")
    : words;
  if (rest === "") return null;
  return <p className="about">{rest.charAt(0).toUpperCase() + rest.slice(1)}</p>;
}

function leaves(shape: GroupShape): number {
  return shape.members.reduce((sum, { shape: inner }) => sum + (inner.is === "group" ? 3 : 1), 0);
}

/** The values of a group in one line. */
export function groupWords(value: Json): string {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return shortValue(value);
  const all = Object.entries(value as { readonly [key: string]: Json })
    .filter(([key, v]) => key !== "name" && (typeof v !== "object" || v === null))
    .map(([, v]) => shortValue(v));
  const first = all.slice(0, 3).join(", ");
  return first === "" ? "" : all.length > 3 ? `${first} ...` : first;
}

/** A part that the document does not have, and may have. */
export function Unsaid({
  path,
  keys,
  name,
  shape,
}: {
  readonly path: string;
  readonly keys: readonly string[];
  readonly name: string;
  readonly shape: Shape;
}) {
  const refusal = useRefusal(path);
  const assumed = useGrounds((grounds) => grounds.assumed);
  const taken = Object.entries(assumed)
    .filter(([at]) => at === path || at.startsWith(`${path}.`) || at.startsWith(`${path}[`))
    .map(([, { value }]) => value);
  return (
    <div className="unsaid" id={fieldId(path)}>
      <span className="name">{name}</span>
      <span className="about">
        {shape.about === name ? "" : shape.about}
        {taken.length === 0 ? "" : `${shape.about === name ? "" : ". "}Taken now: ${taken.join("; ")}.`}
      </span>
      <Button
        sign="plus"
        onPress={() => {
          const document = useBench.getState().open?.document;
          if (document === undefined) return;
          void refusal.watch(setField(document, path, startFor(keys, shape, document, today())));
        }}
      >
        Add<span className="unseen"> {name}</span>
      </Button>
      {refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />}
    </div>
  );
}

export function LeaveOut({ path, name }: { readonly path: string; readonly name: string }) {
  const refusal = useRefusal(`${path} out`);
  return (
    <div className="leave-out">
      <Button
        kind="quiet"
        sign="minus"
        onPress={() => {
          const document = useBench.getState().open?.document;
          if (document !== undefined) void refusal.watch(setField(document, path, undefined));
        }}
      >
        Leave out<span className="unseen"> {name}</span>
      </Button>
      {refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />}
    </div>
  );
}
