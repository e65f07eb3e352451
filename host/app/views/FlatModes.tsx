import { useMemo } from "react";
import { modeSheet, type VoiceView } from "#engine/drawings";
import { Figure } from "../kit/index.ts";

/** What is shown where the browser cannot draw in space. */
export function FlatModes({
  view,
  mode,
  fault,
  told,
}: {
  readonly view: VoiceView;
  readonly mode: number;
  readonly fault: string;
  readonly told: string | null;
}) {
  const chosen = view.modes[mode];
  const sheet = useMemo(() => (chosen === undefined ? null : modeSheet(chosen, view)), [chosen, view]);
  return (
    <div className="body-view">
      <p>{fault} The mode is drawn flat instead, both plates as seen from the front.</p>
      {sheet === null ? <p>This mode carries no shape.</p> : <Figure drawing={sheet} />}
      {told === null ? null : <p className="told">{told}</p>}
    </div>
  );
}
