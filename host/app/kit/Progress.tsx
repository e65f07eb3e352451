import { Label } from "react-aria-components/Label";
import { ProgressBar } from "react-aria-components/ProgressBar";
import { Button } from "./Button.tsx";

/** Work under way: what is being done, how far it has come, and the way to end it. */
export function Progress({
  words,
  fraction,
  onCancel,
}: {
  readonly words: string;
  /** 0 to 1. */
  readonly fraction: number;
  readonly onCancel?: () => void;
}) {
  return (
    <div className="progress">
      <ProgressBar className="progress-bar" value={Math.round(100 * fraction)}>
        {({ percentage, valueText }) => (
          <>
            <Label className="words">
              {words} <span className="soft">{valueText}</span>
            </Label>
            <div className="rule">
              <div className="inked" style={{ width: `${percentage ?? 0}%` }} />
            </div>
          </>
        )}
      </ProgressBar>
      {onCancel === undefined ? null : <Button onPress={onCancel}>Stop computing</Button>}
    </div>
  );
}
