/** Tells what the engine takes where a document says nothing. */
import { type AssumedValue, checkInstrument, type UncertainValue } from "#engine/instrument";

export interface Grounds {
  /** The document they belong to; null: it may not be so, and there are none. */
  readonly text: string | null;
  readonly assumed: readonly AssumedValue[];
  readonly uncertain: readonly Pick<UncertainValue, "path" | "value" | "spread" | "how">[];
}

self.onmessage = ({ data: text }: MessageEvent<string>) => {
  const checked = checkInstrument(text);
  const grounds: Grounds = checked.ok
    ? {
        text,
        assumed: checked.build.assumed,
        uncertain: checked.build.uncertain.map(({ path, value, spread, how }) => ({
          path,
          value,
          spread,
          how,
        })),
      }
    : { text: null, assumed: [], uncertain: [] };
  self.postMessage(grounds);
};
