import { tuningVoiceValidity } from "#engine/pipeline";
import { useDesk } from "../desk/useDesk.ts";
import { Select } from "../kit/index.ts";
import { listenDeeds, useListening } from "./listen.ts";

/** Which of the document's tunings pieces are played in; not there where it has one only. */
export function TuningPicker() {
  const tuning = useListening((listening) => listening.tuning);
  const tunings = useDesk((desk) => desk.strings.value?.tunings ?? null);
  if (tunings === null || tunings.length < 2) return null;
  const [own, ...others] = tunings.map(({ name, strings }) => ({
    id: name,
    label: name,
    detail: strings
      .map(({ note }) => note)
      .toReversed()
      .join(" "),
  }));
  return (
    <Select
      label="Tuning of the pieces"
      value={tuning ?? own!.id}
      options={[own!, ...others]}
      help={
        tuning === null
          ? "A note of the board sounds as the board shows it, in the set's own tuning."
          : tuningVoiceValidity
      }
      onChange={(id) => listenDeeds.setTuning(id === own!.id ? null : id)}
    />
  );
}
