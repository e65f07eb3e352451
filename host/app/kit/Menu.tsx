import { Menu as AriaMenu, MenuItem, MenuTrigger } from "react-aria-components/Menu";
import { Popover } from "react-aria-components/Popover";
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
              <span>{item.label}</span>
              {item.detail === undefined ? null : <span className="detail">{item.detail}</span>}
            </MenuItem>
          )}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  );
}
