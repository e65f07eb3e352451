import { Button } from "react-aria-components/Button";
import { Label } from "react-aria-components/Label";
import { ListBox, ListBoxItem } from "react-aria-components/ListBox";
import { Popover } from "react-aria-components/Popover";
import { Select as AriaSelect, SelectValue } from "react-aria-components/Select";
import { Text } from "react-aria-components/Text";
import { Sign } from "./Sign.tsx";

export interface Option<Id extends string> {
  readonly id: Id;
  readonly label: string;
  readonly detail?: string;
}

/** One of a list, named under its label. */
export function Select<Id extends string>({
  label,
  value,
  options,
  onChange,
  isDisabled = false,
  help,
}: {
  readonly label: string;
  readonly value: Id | null;
  readonly options: readonly Option<Id>[];
  readonly onChange: (id: Id) => void;
  readonly isDisabled?: boolean;
  readonly help?: string;
}) {
  return (
    <AriaSelect
      className="field"
      value={value}
      onChange={(key) => key !== null && onChange(key as Id)}
      isDisabled={isDisabled}
      placeholder="choose"
    >
      <Label>{label}</Label>
      <Button className="line pick">
        <SelectValue>{({ selectedText, defaultChildren }) => selectedText || defaultChildren}</SelectValue>
        <Sign name="down" />
      </Button>
      {help === undefined ? null : (
        <Text slot="description" className="beside">
          {help}
        </Text>
      )}
      <Popover className="popover" offset={2}>
        <ListBox items={options}>
          {(option) => (
            <ListBoxItem id={option.id} textValue={option.label} className="choice">
              <span>{option.label}</span>
              {option.detail === undefined ? null : <span className="detail">{option.detail}</span>}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </AriaSelect>
  );
}
