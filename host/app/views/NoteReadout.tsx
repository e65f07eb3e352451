import { Button } from "../kit/index.ts";
import type { NoteWords } from "./noteWords.ts";

/** The note under the hand, large enough to read from a workbench. */
export function NoteReadout({ words, onPlay }: { readonly words: NoteWords; readonly onPlay?: () => void }) {
  const figures = [
    ["Level at 1 m", words.level],
    ["Decay (60 dB)", words.decay],
    ["Wolf index", words.wolf],
    ["Dead index", words.dead],
  ] as const;
  return (
    <div className="note-readout">
      <div className="readout-name">
        <strong>{words.note}</strong>
        <span>
          {words.place}
          <br />
          <span className="soft">{words.pitch}</span>
        </span>
        {onPlay === undefined ? null : (
          <Button sign="play" onPress={onPlay}>
            Hear it
          </Button>
        )}
      </div>
      <dl>
        {figures.map(([term, text]) => (
          <div key={term}>
            <dt>{term}</dt>
            <dd>{text}</dd>
          </div>
        ))}
        <div className="wide">
          <dt>Strongest body mode</dt>
          <dd>{words.blame ?? "none told"}</dd>
        </div>
        {words.reason === null ? null : (
          <div className="wide">
            <dt>Not foreseen, because</dt>
            <dd>{words.reason}</dd>
          </div>
        )}
      </dl>
    </div>
  );
}
