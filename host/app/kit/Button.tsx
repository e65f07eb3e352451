import type { ReactNode } from "react";
import { Button as AriaButton } from "react-aria-components/Button";
import { Sign, type SignName } from "./Sign.tsx";
import { Tooltip } from "./Tooltip.tsx";

interface Pressable {
  readonly onPress?: () => void;
  readonly isDisabled?: boolean;
  readonly autoFocus?: boolean;
  /** Beside "button", for the owner's own styling. */
  readonly className?: string;
  readonly expanded?: boolean;
  readonly type?: "button" | "submit";
}

/** plain: ruled; main: inked, one on a page; quiet: without a line until pointed at. */
export function Button({
  children,
  kind = "plain",
  sign,
  className = "",
  expanded,
  ...rest
}: Pressable & {
  readonly children: ReactNode;
  readonly kind?: "plain" | "main" | "quiet";
  readonly sign?: SignName;
}) {
  return (
    <AriaButton
      {...rest}
      {...(expanded === undefined ? {} : { "aria-expanded": expanded })}
      className={`button ${kind} ${className}`}
    >
      {sign === undefined ? null : <Sign name={sign} />}
      {children}
    </AriaButton>
  );
}

/** A sign alone; its label is read out and shown when pointed at. */
export function IconButton({
  label,
  sign,
  className = "",
  expanded,
  ...rest
}: Pressable & { readonly label: string; readonly sign: SignName }) {
  return (
    <Tooltip text={label}>
      <AriaButton
        {...rest}
        {...(expanded === undefined ? {} : { "aria-expanded": expanded })}
        aria-label={label}
        className={`button quiet sign-only ${className}`}
      >
        <Sign name={sign} />
      </AriaButton>
    </Tooltip>
  );
}
