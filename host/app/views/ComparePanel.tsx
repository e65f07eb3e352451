import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Button } from "../kit/index.ts";
import { BesidePicker, playNote, useBeside } from "../listen/index.ts";
import { CompareView } from "./CompareView.tsx";

/** The instrument on the bench beside another state of it, or beside another instrument, as the maker picks. */
export function ComparePanel() {
  const text = useDesk((desk) => desk.text);
  const voice = useDesk((desk) => desk.voice);
  const beside = useDesk((desk) => desk.beside);
  const chosen = useBeside();
  if (text === null) return null;
  return (
    <div className="compare">
      <BesidePicker />
      {voice.value === null && voice.status === "none" ? (
        <p>
          The voice of this design is not computed yet.{" "}
          <Button kind="main" onPress={() => deskDeeds.want("voice")}>
            Compute the voice
          </Button>
        </p>
      ) : null}
      {voice.value !== null && !voice.fresh ? (
        <p className="note">Figures of an earlier state of the document on the bench.</p>
      ) : null}
      {chosen.choice === null || chosen.text === null ? (
        <p>Pick what it shall be held against.</p>
      ) : (
        <CompareView
          a={{
            name: "as it is on the bench",
            text,
            voice: voice.value,
            words: standing(voice.status, voice.fault),
          }}
          b={{
            name: chosen.choice.name,
            text: chosen.text,
            voice: beside.value,
            words: standing(beside.status, beside.fault),
          }}
          onPlay={(side, string, fret) => playNote(string, fret, side)}
        />
      )}
    </div>
  );
}

function standing(status: string, fault: string | null): string {
  if (fault !== null) return `the voice could not be computed: ${fault}`;
  return status === "working" || status === "waiting"
    ? "the voice is being computed."
    : "the voice is not computed yet.";
}
