import { useEffect, useId, useRef, useState } from "react";
import { Input } from "react-aria-components/Input";
import { Label } from "react-aria-components/Label";
import { TextArea } from "react-aria-components/TextArea";
import { TextField } from "react-aria-components/TextField";
import { type Json, useBench } from "../bench/index.ts";
import { Faults } from "./Faults.tsx";
import { fieldId } from "./focusField.ts";
import { otherUnit } from "./otherUnit.ts";
import type { Shape } from "./shape.ts";
import { useField } from "./useField.ts";

/** A field to type into: a quantity with its unit, a number, words, a day. Enter takes it, Escape gives it up. */
export function EntryLine({
  path,
  label,
  shape,
  value,
  optional = false,
  assumed,
  quiet = false,
}: {
  readonly path: string;
  readonly label: string;
  readonly shape: Shape;
  readonly value: Json | undefined;
  readonly optional?: boolean;
  /** What is taken while it is not said. */
  readonly assumed?: string | undefined;
  /** Its label is only read out: it stands in a row that names it. */
  readonly quiet?: boolean;
}) {
  const field = useField(path, shape, value, optional);
  const units = useBench((bench) => bench.preferences.units);
  const [inHand, setInHand] = useInHand();
  const id = useId();
  const quantity =
    shape.is === "quantity"
      ? shape
      : shape.is === "uncertain" && shape.alone.is === "quantity"
        ? shape.alone
        : null;
  const other = quantity === null ? null : otherUnit(field.text, quantity.kind, units);
  const long = shape.is === "text" && shape.longest > 300;
  const keys = (e: {
    key: string;
    stopPropagation(): void;
    preventDefault(): void;
    shiftKey: boolean;
  }): void => {
    if (e.key === "Enter" && !(long && e.shiftKey)) {
      e.preventDefault();
      field.commit(true);
    }
    if (e.key === "Escape") {
      e.stopPropagation();
      field.giveUp();
    }
  };
  const props = {
    className: "line",
    id: fieldId(path),
    autoComplete: "off",
    spellCheck: shape.is === "text" ? ("true" as const) : ("false" as const),
    placeholder: assumed ?? (optional ? "not said" : ""),
    "aria-busy": field.busy,
    onKeyDown: keys,
  };
  const described = [inHand ? `${id}h` : null, field.issues === null ? null : `${id}f`].filter(
    (x) => x !== null,
  );
  return (
    <TextField
      className={`entry${quiet ? " quiet" : ""}${long ? " words" : ""}`}
      value={field.text}
      onChange={field.type}
      isInvalid={field.issues !== null}
      onFocus={() => setInHand(true)}
      onBlur={() => {
        setInHand(false);
        field.commit(false);
      }}
      aria-describedby={described.join(" ")}
    >
      <Label className={quiet ? "unseen" : "name"}>{label}</Label>
      <span className="typed">
        {long ? (
          <TextArea rows={Math.min(6, Math.max(1, Math.ceil(field.text.length / 34)))} {...props} />
        ) : (
          <Input {...props} />
        )}
        {other === null ? null : <span className="other figures">{other}</span>}
      </span>
      {inHand ? (
        <Help
          id={`${id}h`}
          shape={shape}
          assumed={assumed}
          optional={optional}
          refused={field.issues !== null}
        />
      ) : null}
      {field.issues === null ? null : (
        <Faults id={`${id}f`} issues={field.issues} path={path} onTake={field.take} />
      )}
    </TextField>
  );
}

/**
 * Whether the cursor is in the field. Its help goes a little later than the cursor: what stands below moves up then, and a
 * press that took the cursor away must still find its button where it was.
 */
function useInHand(): [boolean, (inHand: boolean) => void] {
  const [inHand, set] = useState(false);
  const leaving = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(leaving.current), []);
  return [
    inHand,
    (now) => {
      clearTimeout(leaving.current);
      if (now) set(true);
      else leaving.current = setTimeout(() => set(false), pressLasts);
    },
  ];
}

/** A press of the mouse is over by then, milliseconds. */
const pressLasts = 400;

/** What the field is and what may be typed; shown while the cursor is in it. */
function Help({
  id,
  shape,
  assumed,
  optional,
  refused,
}: {
  readonly id: string;
  readonly shape: Shape;
  readonly assumed: string | undefined;
  readonly optional: boolean;
  /** The refusal says what is allowed. */
  readonly refused: boolean;
}) {
  if (refused) return shape.about === "" ? null : <p className="help" id={id}>{`${shape.about}.`}</p>;
  const example = shape.is === "text" || shape.example === undefined ? null : String(shape.example);
  return (
    <p className="help" id={id}>
      {shape.about}
      {shape.about === "" ? "" : ". "}
      {shape.allowed === "" ? "" : `${capital(shape.allowed)}. `}
      {example === null ? "" : `For example ${example}. `}
      {optional ? (assumed === undefined ? "May be left empty." : `Empty: ${assumed}.`) : ""}
    </p>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
