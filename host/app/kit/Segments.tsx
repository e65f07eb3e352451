import { ToggleButton } from "react-aria-components/ToggleButton";
import { ToggleButtonGroup } from "react-aria-components/ToggleButtonGroup";
import type { Option } from "./Select.tsx";

/** One of a few, all in sight. */
export function Segments<Id extends string>({
  label,
  value,
  options,
  onChange,
}: {
  readonly label: string;
  readonly value: Id;
  readonly options: readonly Option<Id>[];
  readonly onChange: (id: Id) => void;
}) {
  return (
    <ToggleButtonGroup
      aria-label={label}
      className="segments"
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[value]}
      onSelectionChange={(keys) => {
        const [first] = keys;
        if (first !== undefined) onChange(first as Id);
      }}
    >
      {options.map((option) => (
        <ToggleButton key={option.id} id={option.id} className="button">
          {option.label}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  );
}
