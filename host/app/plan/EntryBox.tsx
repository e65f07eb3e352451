import { useState } from "react";
import { Button, IconButton } from "../kit/index.ts";
import type { Entry, Handle } from "./handle.ts";
import { enter, takeOff } from "./planDeeds.ts";
import { usePlan } from "./planState.ts";
import type { Place } from "./sheetLayout.ts";
import type { Size } from "./sheetView.ts";
import { readTyped, shownAngle, shownLength, type Units } from "./typed.ts";

/** Exact figures of a handle, typed in any unit; Enter sets them. */
export function EntryBox({
  handle,
  at,
  size,
  units,
  refusal,
}: {
  readonly handle: Handle;
  readonly at: Place;
  readonly size: Size;
  readonly units: Units;
  readonly refusal: string | null;
}) {
  const width = 312;
  const height = 100 + 80 * Math.ceil(handle.entries.length / 2) + (handle.note === undefined ? 0 : 60);
  const left = at[0] + 24 + width > size.width ? Math.max(8, at[0] - 24 - width) : at[0] + 24;
  const top = Math.max(8, Math.min(at[1] - 40, size.height - height - 8));
  return (
    <div
      className="plan-entry"
      style={{ left, top, width }}
      role="dialog"
      aria-label={`Exact figures: ${handle.name}`}
      onKeyDown={(event) => {
        if (event.key === "Escape") usePlan.setState({ entry: null, refusal: null });
      }}
    >
      <div className="plan-entry-head">
        <strong>{handle.name}</strong>
        <IconButton
          label="Close"
          sign="close"
          onPress={() => usePlan.setState({ entry: null, refusal: null })}
        />
      </div>
      <div className="plan-entry-lines">
        {handle.entries.map((entry, i) => (
          <EntryLine key={entry.id} handle={handle} entry={entry} units={units} first={i === 0} />
        ))}
      </div>
      {handle.note === undefined ? null : <p>{handle.note}</p>}
      {handle.takenOff === undefined ? null : (
        <Button kind="quiet" onPress={() => void takeOff(handle)}>
          Take this weight off
        </Button>
      )}
      {refusal === null ? null : (
        <p className="fault" role="alert">
          {refusal}
        </p>
      )}
    </div>
  );
}

/** The box opens because its figures were asked for: its first takes the keys. */
function focused(input: HTMLInputElement | null): void {
  input?.focus({ preventScroll: true });
}

function EntryLine({
  handle,
  entry,
  units,
  first,
}: {
  readonly handle: Handle;
  readonly entry: Entry;
  readonly units: Units;
  readonly first: boolean;
}) {
  const shown = Number.isNaN(entry.value)
    ? ""
    : entry.kind === "angle"
      ? shownAngle(entry.value)
      : shownLength(entry.value, units);
  const [typed, setTyped] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const commit = async (): Promise<void> => {
    if (typed === null || typed.trim() === shown) return setTyped(null);
    const read = readTyped(typed, entry.kind, units);
    if (!read.ok) return setFault(read.fault);
    setFault(null);
    if (await enter(handle, entry, read.value)) setTyped(null);
  };
  return (
    <label className="plan-entry-line">
      <span>{entry.label}</span>
      <input
        className="line"
        value={typed ?? shown}
        ref={first ? focused : undefined}
        autoComplete="off"
        spellCheck={false}
        aria-invalid={fault !== null}
        onFocus={(event) => event.target.select()}
        onChange={(event) => {
          setTyped(event.target.value);
          setFault(null);
        }}
        onBlur={() => void commit()}
        onKeyDown={(event) => {
          if (event.key === "Enter") void commit();
          if (event.key === "Escape" && typed !== null) {
            event.stopPropagation();
            setTyped(null);
            setFault(null);
          }
        }}
      />
      {fault === null ? null : <span className="fault">{fault}</span>}
    </label>
  );
}
