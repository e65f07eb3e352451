import "./inspector.css";
import { useEffect, useMemo, useState } from "react";
import { Input } from "react-aria-components/Input";
import { Label } from "react-aria-components/Label";
import { SearchField } from "react-aria-components/SearchField";
import schema from "../../../docs/instrument.schema.json";
import { type Json, useBench } from "../bench/index.ts";
import { Segments } from "../kit/index.ts";
import { chapters } from "./chapters.ts";
import { useDrafts } from "./drafts.ts";
import { EditorContext } from "./editor.ts";
import { Fold } from "./Fold.tsx";
import { namesOf } from "./fieldDeeds.ts";
import { fieldName } from "./fieldNames.ts";
import { allFields, fieldsFor } from "./fieldSearch.ts";
import { fieldId, focusField, useFieldFocus } from "./focusField.ts";
import { GroupFields } from "./GroupEditor.tsx";
import { followGrounds } from "./grounds.ts";
import { documentShape, type Member } from "./shape.ts";
import { ValueEditor } from "./ValueEditor.tsx";

const shape = documentShape(schema);
/** More found fields than this are not shown at once. */
const mostFound = 60;

/** Every field of the open document. */
export function InspectorBody({ sections }: { readonly sections?: readonly string[] | undefined }) {
  const document = useBench((bench) => bench.open?.document ?? null);
  const text = useBench((bench) => bench.open?.text ?? null);
  const [all, setAll] = useState(sections === undefined);
  const [words, setWords] = useState("");
  const asked = useFieldFocus((focus) => focus.asked);
  useEffect(() => {
    if (text !== null) followGrounds(text);
  }, [text]);
  // A field outside this stage was asked for: all of them are shown.
  useEffect(() => {
    const { path, followed } = useFieldFocus.getState();
    if (asked === followed || path === null) return;
    setWords("");
    const first = /^[^.[]+/.exec(path)?.[0] ?? "";
    if (sections !== undefined && !sections.includes(first)) setAll(true);
  }, [asked, sections]);
  useAskedFor(asked);
  if (document === null) return null;
  return (
    <EditorContext value={ValueEditor}>
      <div className="inspector">
        <div className="finder">
          <SearchField className="field" value={words} onChange={setWords}>
            <Label className="unseen">Find a field</Label>
            <Input className="line" placeholder="Find a field" />
          </SearchField>
          {sections === undefined ? null : (
            <Segments
              label="Which values"
              value={all ? "all" : "stage"}
              options={[
                { id: "stage", label: "This stage" },
                { id: "all", label: "All" },
              ]}
              onChange={(which) => setAll(which === "all")}
            />
          )}
        </div>
        <OpenDrafts />
        {words.trim() !== "" ? (
          <Found words={words} document={document} />
        ) : all || sections === undefined ? (
          chapters.map((chapter) => (
            <Fold key={chapter.name} path={`chapter ${chapter.name}`} name={chapter.name}>
              <Sections keys={chapter.sections} document={document} />
            </Fold>
          ))
        ) : (
          <Sections keys={sections} document={document} open />
        )}
      </div>
    </EditorContext>
  );
}

/** Sections of the document, one below the other. */
function Sections({
  keys,
  document,
  open = false,
}: {
  readonly keys: readonly string[];
  readonly document: { readonly [key: string]: Json };
  readonly open?: boolean;
}) {
  const members = keys.flatMap((key) => shape.members.find((member) => member.key === key) ?? []);
  return (
    <div className="sections">
      {members.map((member) => (
        <Section
          key={member.key}
          member={member}
          value={document[member.key]}
          document={document}
          open={open && keys.length < 3}
        />
      ))}
    </div>
  );
}

function Section({
  member: { key, optional, shape: inner },
  value,
  document,
  open,
}: {
  readonly member: Member;
  readonly value: Json | undefined;
  readonly document: Json;
  readonly open: boolean;
}) {
  const name = fieldName([key]);
  if (inner.is === "group" && value !== undefined)
    return (
      <Fold path={key} name={name} startsOpen={open}>
        <GroupFields path={key} keys={[key]} shape={inner} value={value} />
      </Fold>
    );
  return (
    <ValueEditor
      path={key}
      keys={[key]}
      name={name}
      shape={inner}
      value={value}
      optional={optional}
      holder={document}
    />
  );
}

/** Fields found by words, each with where it stands. */
function Found({ words, document }: { readonly words: string; readonly document: Json }) {
  const fields = useMemo(() => allFields(shape, document), [document]);
  const found = fieldsFor(words, fields);
  return (
    <div className="found">
      <p className="about" role="status">
        {found.length === 0
          ? "No field has these words."
          : `${found.length} field${found.length === 1 ? "" : "s"}`}
        {found.length > mostFound ? `; the first ${mostFound} are shown` : ""}
      </p>
      {found.slice(0, mostFound).map((field) => (
        <div key={field.path} className="found-field">
          <p className="where">{field.names.slice(0, -1).join(", ")}</p>
          <ValueEditor {...field} name={field.names.at(-1) ?? ""} />
        </div>
      ))}
    </div>
  );
}

/** What was typed and refused, wherever it stands: not forgotten behind a fold. */
function OpenDrafts() {
  const id = useBench((bench) => bench.open?.id ?? "");
  const document = useBench((bench) => bench.open?.document);
  const refused = useDrafts(({ byField }) => byField);
  const paths = Object.entries(refused)
    .filter(([key, draft]) => key.startsWith(`${id} `) && draft.issues !== null && !key.endsWith(")"))
    .map(([key]) => key.slice(id.length + 1));
  if (paths.length === 0) return null;
  return (
    <p className="refused" role="status">
      {paths.length === 1 ? "One field is refused" : `${paths.length} fields are refused`} and keep
      {paths.length === 1 ? "s" : ""} what was typed:{" "}
      {paths.map((path, i) => (
        <span key={path}>
          {i === 0 ? "" : ", "}
          <button type="button" className="link" onClick={() => focusField(path)}>
            {namesOf(document ?? {}, path)}
          </button>
        </span>
      ))}
    </p>
  );
}

/** Puts the cursor into the field that was asked for, once it is shown. */
function useAskedFor(asked: number): void {
  useEffect(() => {
    const { path, followed } = useFieldFocus.getState();
    if (path === null || asked === followed) return;
    const timer = setTimeout(() => {
      useFieldFocus.setState({ followed: asked });
      const parts = path.split(/(?=[.[])/);
      // The nearest place round it that is shown.
      for (let n = parts.length; n > 0; n--) {
        const element = window.document.getElementById(fieldId(parts.slice(0, n).join("")));
        if (element === null) continue;
        const target = element.matches("input, textarea, button")
          ? element
          : element.querySelector("input, textarea, button");
        element.scrollIntoView({ block: "center" });
        if (target instanceof HTMLElement) target.focus();
        return;
      }
    }, 60);
    return () => clearTimeout(timer);
  }, [asked]);
}
