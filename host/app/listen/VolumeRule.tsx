import { Slider } from "../kit/index.ts";
import { listenDeeds, useListening } from "./listen.ts";
import { loudnessOf } from "./makeListening.ts";

/** Volume under a ceiling, and the caution that belongs to it. */
export function VolumeRule() {
  const volume = useListening((listening) => listening.volume);
  return (
    <div className="volume">
      <Slider
        label="Volume"
        value={volume}
        least={0}
        greatest={1}
        step={0.02}
        say={sayVolume}
        onChange={listenDeeds.setVolume}
      />
      <p className="note">
        With headphones, set the device low before the first note and raise it slowly. The sound never goes
        above 3 dB under full scale, but how loud that is in the ear only your device decides.
      </p>
    </div>
  );
}

function sayVolume(volume: number): string {
  const factor = loudnessOf(volume);
  if (factor === 0) return "off";
  const db = Math.round(20 * Math.log10(factor));
  return db === 0 ? "full" : `${db} dB`.replace("-", "−");
}
