import { useState } from "react";
import { Button, Tick } from "../kit/index.ts";
import { saveFile } from "../shell/saveFile.ts";
import { listenDeeds } from "./listen.ts";
import { soundFileName } from "./soundFileName.ts";

/** Saves the side in the ears as a WAV file. */
export function SaveSound({ name, what }: { readonly name: string; readonly what: string }) {
  const [float, setFloat] = useState(false);
  const save = () => {
    const bytes = listenDeeds.wav(float);
    if (bytes !== null) saveFile(new Blob([bytes], { type: "audio/wav" }), soundFileName([name, what]));
  };
  return (
    <div className="listen-row">
      <Button sign="keep" onPress={save}>
        Save as WAV
      </Button>
      <Tick isSelected={float} onChange={setFloat}>
        as 32-bit floats, for measuring
      </Tick>
    </div>
  );
}
