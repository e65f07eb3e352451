import "./listen.css";
import { Button } from "../kit/index.ts";
import { listenDeeds, useListening } from "./listen.ts";
import { VolumeRule } from "./VolumeRule.tsx";

/** Beside a note board that sounds: what is playing or why nothing is, the way to end it, and the volume. */
export function ListenLine() {
  const { status, fault } = useListening();
  const words =
    status === "rendering" ? "Rendering." : status === "playing" ? "Playing." : "Strike a note to hear it.";
  return (
    <div className="listen">
      <div className="listen-row">
        <p role="status" className={fault === null ? "note" : "accent"}>
          {fault ?? words}
        </p>
        <Button sign="stop" kind="quiet" isDisabled={status === "silent"} onPress={listenDeeds.stop}>
          Stop
        </Button>
      </div>
      <VolumeRule />
    </div>
  );
}
