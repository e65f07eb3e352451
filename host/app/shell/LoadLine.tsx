import { useShallow } from "zustand/react/shallow";
import { inUnit } from "#engine/units";
import { honestAccuracy } from "#engine/verdicts";
import { useDesk } from "../desk/useDesk.ts";
import { lengthFigure, lengthUnit, sayForce } from "./say.ts";
import { useUnits } from "./useUnits.ts";

/** What the strings do, beside whatever is being changed for the voice: under the hand it moves with the hand. */
export function LoadLine() {
  const units = useUnits();
  const [rotation, rise, pull, from] = useDesk(
    useShallow((desk) => {
      const pull = desk.strings.value?.tunings[0]?.totalN ?? null;
      if (desk.live !== null)
        return [
          inUnit(desk.live.load.bridgeRotation, "deg"),
          desk.live.load.saddleRise,
          pull,
          "hand",
        ] as const;
      const load = desk.load.value;
      if (load !== null && (desk.load.fresh || !desk.voice.fresh))
        return [
          load.bridge.rotationDeg,
          load.bridge.saddleRiseM,
          pull,
          desk.load.fresh ? "load" : "old",
        ] as const;
      const voiced = desk.voice.value?.view.load;
      const rolled = voiced?.bridgeRotation ?? null;
      return [
        rolled === null ? null : inUnit(rolled, "deg"),
        voiced?.saddleRise ?? null,
        pull,
        desk.voice.fresh ? "voice" : "old",
      ] as const;
    }),
  );
  const { tension, bridgeRotation } = honestAccuracy(
    useDesk((desk) => desk.voice.value?.view.knowledge ?? "catalogue"),
  );
  const words = { hand: "under your hand", load: "", voice: "", old: "of an earlier state" }[from];
  return (
    <section className="load-line" aria-label="What the strings do">
      <dl>
        <div>
          <dt>Strings pull</dt>
          <dd>{pull === null ? "not computed" : sayForce(pull, units)}</dd>
        </div>
        <div>
          <dt>Bridge rolls</dt>
          <dd>
            {rotation === null
              ? "not computed"
              : `${Math.abs(rotation).toFixed(2)}° ${rotation >= 0 ? "toward the nut" : "toward the tail"}`}
          </dd>
        </div>
        <div>
          <dt>Saddle {rise !== null && rise < 0 ? "sinks" : "rises"}</dt>
          <dd>
            {rise === null ? "not computed" : `${lengthFigure(Math.abs(rise), units)} ${lengthUnit(units)}`}
          </dd>
        </div>
      </dl>
      <p className="note">
        Elastic model, perfect joints assumed; one sigma: pull {percent(tension)}, roll{" "}
        {percent(bridgeRotation)}, saddle as much of the top's greatest motion
        {words === "" || rotation === null ? "" : `; ${words}`}.
      </p>
    </section>
  );
}

function percent(share: number): string {
  return `± ${(100 * share).toFixed(0)} %`;
}
