import type { ReactNode } from "react";
import { Tooltip as AriaTooltip, TooltipTrigger } from "react-aria-components/Tooltip";

/** Words that appear when the control within is pointed at or focused; nothing may be said in them alone. */
export function Tooltip({ text, children }: { readonly text: string; readonly children: ReactNode }) {
  return (
    <TooltipTrigger delay={500}>
      {children}
      <AriaTooltip className="tooltip" offset={6}>
        {text}
      </AriaTooltip>
    </TooltipTrigger>
  );
}
