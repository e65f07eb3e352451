import { useMemo } from "react";
import { useBench } from "../bench/index.ts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Progress, Select } from "../kit/index.ts";
import { besideChoices, putBeside, useBeside } from "./besideChoice.ts";

const alone = { id: "alone", label: "nothing: this design alone" };

/** What stands beside the instrument on the bench: an earlier state of it, or another instrument. */
export function BesidePicker() {
  const open = useBench((bench) => bench.open);
  const list = useBench((bench) => bench.list);
  const chosen = useBeside();
  const stage = useDesk((desk) => desk.beside);
  const choices = useMemo(() => besideChoices({ open, list }), [open, list]);
  const options = [alone, ...choices.map(({ id, name }) => ({ id, label: name }))];
  return (
    <div className="beside-picker">
      <Select
        label="Beside it"
        value={chosen.choice?.id ?? alone.id}
        options={options}
        isDisabled={choices.length === 0}
        help={
          choices.length === 0
            ? "Keep a state of this instrument, or begin another, to have something to hold against it."
            : "Both are played with the same pluck and the same gain."
        }
        onChange={(id) => void putBeside(choices.find((choice) => choice.id === id) ?? null)}
      />
      {stage.status === "working" || stage.status === "waiting" ? (
        <Progress
          words={`Computing ${chosen.choice?.name ?? "the other voice"}: ${stage.words}`}
          fraction={stage.fraction}
          onCancel={() => deskDeeds.cancel("beside")}
        />
      ) : null}
      {chosen.fault === null && stage.fault === null ? null : (
        <p role="status" className="accent">
          {chosen.fault ?? stage.fault}
        </p>
      )}
    </div>
  );
}
