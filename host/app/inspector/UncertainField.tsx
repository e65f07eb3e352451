import type { Json } from "../bench/index.ts";
import { useBench } from "../bench/index.ts";
import { Select } from "../kit/index.ts";
import { EntryLine } from "./EntryLine.tsx";
import { Faults } from "./Faults.tsx";
import { setField } from "./fieldDeeds.ts";
import { groundWords, useGrounds } from "./grounds.ts";
import type { GroupShape, Shape } from "./shape.ts";
import { useRefusal } from "./useField.ts";

type Full = { readonly value: Json; readonly how: string; readonly spread?: Json; readonly note?: Json };

/** Spread that a value starts with when its source is said: engineering judgement, to be changed by who measured. */
const firstSpread: Readonly<Record<string, string>> = { measured: "2 %", catalogue: "10 %", assumed: "10 %" };

/** A value that is not certain: alone, or with how it is known and its spread. */
export function UncertainField({
  path,
  label,
  shape,
  value,
  optional,
}: {
  readonly path: string;
  readonly label: string;
  readonly shape: Shape & { readonly is: "uncertain" };
  readonly value: Json | undefined;
  readonly optional: boolean;
}) {
  const refusal = useRefusal(`${path}.how`);
  const ground = useGrounds(({ uncertain }) => uncertain[path]);
  const full = typeof value === "object" && value !== null ? (value as Full) : null;
  const kind = shape.alone.is === "quantity" ? shape.alone.kind : null;
  const taken = ground === undefined ? undefined : groundWords(ground.value, ground.spread, kind);
  const alone = { ...shape.alone, example: shape.alone.example ?? shape.example } as Shape;
  const setHow = (how: string): void => {
    const document = useBench.getState().open?.document;
    if (document === undefined || value === undefined) return;
    // The value alone is the plain way to say "assumed, with the usual spread".
    const next: Json =
      how === "plain"
        ? (full?.value ?? value)
        : full === null
          ? { value, how, spread: firstSpread[how] ?? "10 %" }
          : { ...full, how };
    void refusal.watch(setField(document, path, next));
  };
  return (
    <div className="uncertain">
      <EntryLine
        path={full === null ? path : `${path}.value`}
        label={label}
        shape={alone}
        value={full === null ? value : full.value}
        optional={optional && full === null}
        assumed={value === undefined && taken !== undefined ? `${taken}, ${ground?.how}` : undefined}
      />
      {value === undefined ? null : (
        <div className="known">
          <Select
            label="Known by"
            value={full === null ? "plain" : full.how}
            options={sources}
            onChange={setHow}
          />
          {full === null ? (
            <p className="usual">{spreadWords(ground)}</p>
          ) : (
            <>
              <EntryLine
                path={`${path}.spread`}
                label="Spread"
                shape={member(shape.full, "spread")}
                value={full.spread}
              />
              <EntryLine
                path={`${path}.note`}
                label="Note"
                shape={member(shape.full, "note")}
                value={full.note}
                optional
              />
            </>
          )}
        </div>
      )}
      {refusal.issues === null ? null : <Faults issues={refusal.issues} path={path} />}
    </div>
  );
}

const sources = [
  { id: "measured", label: "measured" },
  { id: "catalogue", label: "catalogue" },
  { id: "assumed", label: "assumed" },
  { id: "plain", label: "assumed, usual spread" },
] as const;

function spreadWords(ground: { readonly value: number; readonly spread: number } | undefined): string {
  if (ground === undefined || ground.value === 0) return "";
  return `± ${Math.round((100 * ground.spread) / Math.abs(ground.value))} %`;
}

function member(group: GroupShape, key: string): Shape {
  const found = group.members.find((m) => m.key === key);
  if (found === undefined) throw new Error(`a value that is not certain has no ${key}`);
  return found.shape;
}
