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
