import { Menu as AriaMenu, MenuItem, MenuTrigger } from "react-aria-components/Menu";
import { Popover } from "react-aria-components/Popover";
import { Text } from "react-aria-components/Text";
import { Button } from "./Button.tsx";
import type { Option } from "./Select.tsx";
import type { SignName } from "./Sign.tsx";

/** A list of deeds behind a button. */
export function Menu<Id extends string>({
  label,
  sign,
  items,
  onAction,
  kind = "quiet",
}: {
  readonly label: string;
  readonly sign?: SignName;
  readonly items: readonly (Option<Id> & { readonly isDisabled?: boolean })[];
  readonly onAction: (id: Id) => void;
  readonly kind?: "plain" | "quiet";
}) {
  return (
    <MenuTrigger>
      <Button kind={kind} {...(sign === undefined ? {} : { sign })}>
        {label}
      </Button>
      <Popover className="popover" offset={4}>
        <AriaMenu items={items} onAction={(key) => onAction(key as Id)} aria-label={label}>
          {(item) => (
            <MenuItem
              id={item.id}
              textValue={item.label}
              isDisabled={item.isDisabled ?? false}
              className="choice"
            >
              <Text slot="label">{item.label}</Text>
              {item.detail === undefined ? null : (
                <Text slot="description" className="detail">
                  {item.detail}
                </Text>
              )}
            </MenuItem>
          )}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  );
}
