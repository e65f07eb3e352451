import type { ReactNode } from "react";
import { Checkbox } from "react-aria-components/Checkbox";
import { Sign } from "./Sign.tsx";

/** Yes or no. */
export function Tick({
  children,
  isSelected,
  onChange,
  isDisabled = false,
}: {
  readonly children: ReactNode;
  readonly isSelected: boolean;
  readonly onChange: (on: boolean) => void;
  readonly isDisabled?: boolean;
}) {
  return (
    <Checkbox className="tick" isSelected={isSelected} onChange={onChange} isDisabled={isDisabled}>
      {({ isSelected: on }) => (
        <>
          <span className="box">{on ? <Sign name="tick" /> : null}</span>
          {children}
        </>
      )}
    </Checkbox>
  );
}
