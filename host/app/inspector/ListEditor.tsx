import { type EditAnswer, type Json, useBench } from "../bench/index.ts";
import { Button, IconButton, Menu } from "../kit/index.ts";
import { moveDrafts } from "./drafts.ts";
import { type EditorProps, useEditor } from "./editor.ts";
import { Faults } from "./Faults.tsx";
import { Fold } from "./Fold.tsx";
import { addEntry, copyOf, moveEntry, placeNames, removeEntry } from "./fieldDeeds.ts";
import { entryName, entryWord } from "./fieldNames.ts";
import { focusField } from "./focusField.ts";
import { About, GroupFields, groupWords, LeaveOut, Unsaid } from "./GroupEditor.tsx";
import { type Shape, startsPlain } from "./shape.ts";
import { startFor } from "./startFor.ts";
import { today } from "./today.ts";
import { useRefusal } from "./useField.ts";

type ListShape = Shape & { readonly is: "list" };

/** A list: its entries can be added, copied, moved and removed. */
export function ListEditor({
  path,
  keys,
  name,
  shape,
  value,
  optional,
}: EditorProps & { readonly shape: ListShape }) {
  const refusal = useRefusal(path);
  if (value === undefined) return <Unsaid path={path} keys={keys} name={name} shape={shape} />;
  const list = Array.isArray(value) ? (value as readonly Json[]) : [];
  const key = keys.at(-1) ?? "";
  const now = (
    deed: (document: { readonly [key: string]: Json }) => Promise<EditAnswer>,
  ): Promise<boolean> => {
    const { open } = useBench.getState();
    return open === null ? Promise.resolve(false) : refusal.watch(deed(open.document));
  };
  const instrument = (): string => useBench.getState().open?.id ?? "";
  const deeds: EntryDeeds = {
    add: (behind) =>
      void now((document) => {
        const neighbour = list[behind ?? list.length - 1];
        const entry =
          neighbour === undefined
            ? startFor(keys, shape.item, document, today())
            : dated(copyOf(neighbour, list), today());
        return addEntry(document, path, entry, behind);
      }).then((done) => {
        if (!done) return;
        const at = behind === undefined ? list.length : behind + 1;
        moveDrafts(instrument(), path, (i) => (i >= at ? i + 1 : i));
        focusField(`${path}[${at}]`);
      }),
    move: (from, to) =>
      void now((document) => moveEntry(document, path, from, to)).then((done) => {
        if (done) moveDrafts(instrument(), path, (i) => moved(i, from, to));
      }),
    remove: (index) =>
      void now((document) => removeEntry(document, path, index)).then((done) => {
        if (done) moveDrafts(instrument(), path, (i) => (i === index ? null : i > index ? i - 1 : i));
      }),
  };
  const short = startsPlain(shape.item);
  const word = entryWord(key);
  return (
    <Fold path={path} name={name} beside={`${list.length}`} startsOpen={list.length <= 1 && !short}>
      <About words={shape.about} name={name} />
      <ol className={short ? "entries short" : "entries"}>
        {list.map((entry, i) => (
          // entries have no identity but their place
          <li key={i}>
            {short ? (
              <ShortEntry {...{ path, keys, shape, list, deeds }} index={i} />
            ) : (
              <LongEntry {...{ path, keys, shape, list, deeds }} index={i} entry={entry} />
            )}
          </li>
        ))}
      </ol>
      {refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />}
      <div className="leave-out">
        {list.length >= shape.most ? (
          <span className="about">At most {shape.most}.</span>
        ) : (
          <Button sign="plus" onPress={() => deeds.add()}>
            Add a {word}
          </Button>
        )}
      </div>
      {optional ? <LeaveOut path={path} name={name} /> : null}
    </Fold>
  );
}

interface EntryDeeds {
  readonly add: (behind?: number) => void;
  readonly move: (from: number, to: number) => void;
  readonly remove: (index: number) => void;
}

interface EntryProps {
  readonly path: string;
  readonly keys: readonly string[];
  readonly shape: ListShape;
  readonly list: readonly Json[];
  readonly index: number;
  readonly deeds: EntryDeeds;
}

/** An entry that fits on one line. */
function ShortEntry({ path, keys, shape, list, index, deeds }: EntryProps) {
  const Editor = useEditor();
  const name = entryName(keys.at(-1) ?? "", index);
  return (
    <div className="short-entry">
      <span className="number" aria-hidden="true">
        {index + 1}
      </span>
      <Editor
        path={`${path}[${index}]`}
        keys={keys}
        name={name}
        shape={shape.item}
        value={list[index]}
        optional={false}
        holder={list}
        quiet
      />
      {list.length > shape.least ? (
        <IconButton label={`Remove ${name}`} sign="minus" onPress={() => deeds.remove(index)} />
      ) : null}
    </div>
  );
}

/** An entry with fields of its own. */
function LongEntry({ path, keys, shape, list, index, deeds, entry }: EntryProps & { readonly entry: Json }) {
  const Editor = useEditor();
  const document = useBench((bench) => bench.open?.document);
  const here = `${path}[${index}]`;
  const name = placeNames(document ?? {}, here).at(-1) ?? "";
  const full = list.length >= shape.most;
  return (
    <Fold path={here} name={name} beside={groupWords(entry)}>
      <div className="entry-deeds">
        <Menu
          label="Copy, move, remove"
          sign="more"
          items={[
            { id: "copy", label: "Add one like it behind it", isDisabled: full },
            { id: "up", label: "Move one place up", isDisabled: index === 0 },
            { id: "down", label: "Move one place down", isDisabled: index === list.length - 1 },
            { id: "remove", label: "Remove it", isDisabled: list.length <= shape.least },
          ]}
          onAction={(id) => {
            if (id === "copy") deeds.add(index);
            else if (id === "remove") deeds.remove(index);
            else deeds.move(index, id === "up" ? index - 1 : index + 1);
          }}
        />
      </div>
      {shape.item.is === "group" ? (
        <GroupFields path={here} keys={keys} shape={shape.item} value={entry} />
      ) : (
        <Editor
          path={here}
          keys={keys}
          name={name}
          shape={shape.item}
          value={entry}
          optional={false}
          holder={list}
          quiet
        />
      )}
    </Fold>
  );
}

/** Where the entry at a place is after one was moved. */
function moved(index: number, from: number, to: number): number {
  if (index === from) return to;
  if (from < index && index <= to) return index - 1;
  return to <= index && index < from ? index + 1 : index;
}

function dated(entry: Json, day: string): Json {
  return typeof entry === "object" && entry !== null && "date" in entry ? { ...entry, date: day } : entry;
}
