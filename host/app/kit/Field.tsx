import { useEffect, useRef, useState } from "react";
import { Input } from "react-aria-components/Input";
import { Label } from "react-aria-components/Label";
import { Text } from "react-aria-components/Text";
import { TextArea } from "react-aria-components/TextArea";
import { TextField } from "react-aria-components/TextField";

interface Written {
  readonly label: string;
  readonly value: string;
  /** Why what stands there is refused; null: nothing against it. */
  readonly fault?: string | null;
  readonly help?: string;
  readonly isDisabled?: boolean;
  readonly autoFocus?: boolean;
}

/** A line of text, told of at every key. */
export function Field({
  label,
  value,
  onChange,
  fault = null,
  help,
  lines = 1,
  ...rest
}: Written & { readonly onChange: (text: string) => void; readonly lines?: number }) {
  return (
    <TextField {...rest} className="field" value={value} onChange={onChange} isInvalid={fault !== null}>
      <Label>{label}</Label>
      {lines > 1 ? <TextArea className="line" rows={lines} /> : <Input className="line" />}
      {help === undefined && fault === null ? null : (
        <Text slot="description" className={fault === null ? "beside" : "fault"}>
          {fault ?? help}
        </Text>
      )}
    </TextField>
  );
}

/**
 * A quantity as the maker types it ("25 1/2 in"). The draft is the field's own until Enter or leaving it; Escape takes it
 * back. `shown` is the same in the other unit, from the caller. `onCommit` is called only when the text has changed.
 */
export function QuantityField({
  label,
  value,
  onCommit,
  fault = null,
  help,
  shown,
  ...rest
}: Written & { readonly onCommit: (text: string) => void; readonly shown?: string }) {
  const [draft, setDraft] = useState(value);
  const lastValue = useRef(value);
  useEffect(() => {
    if (lastValue.current !== value) setDraft(value);
    lastValue.current = value;
  }, [value]);
  const commit = () => {
    const text = draft.trim();
    if (text !== value) onCommit(text);
  };
  return (
    <TextField
      {...rest}
      className="field quantity"
      value={draft}
      onChange={setDraft}
      isInvalid={fault !== null}
    >
      <Label>{label}</Label>
      <Input
        className="line"
        inputMode="text"
        autoComplete="off"
        spellCheck="false"
        onBlur={commit}
        onKeyDown={(e) => {
          if (e.key === "Enter") commit();
          if (e.key === "Escape" && draft !== value) {
            e.stopPropagation();
            setDraft(value);
          }
        }}
      />
      {fault === null && help === undefined && shown === undefined ? null : (
        <Text slot="description" className="beside">
          {shown === undefined ? null : <span className="figures">{shown}</span>}
          {fault === null ? help : <span className="fault">{fault}</span>}
        </Text>
      )}
    </TextField>
  );
}
