import "./start.css";
import { type CSSProperties, useEffect, useMemo, useState } from "react";
import { Dialog } from "react-aria-components/Dialog";
import { Modal, ModalOverlay } from "react-aria-components/Modal";
import { benchDeeds, useBench } from "../bench/index.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Button, Segments, VerdictMark } from "../kit/index.ts";
import { allVerdicts } from "../shell/stageVerdicts.ts";
import { useUnits } from "../shell/useUnits.ts";
import {
  braceSteps,
  type HandsList,
  type HandsStep,
  handsLists,
  nutSteps,
  openSteps,
  slotSteps,
} from "./handsSteps.ts";
import { useWakeLock } from "./useWakeLock.ts";

/** For full hands: the next step and one number, large enough for two metres. */
export function HandsFull({ onClose }: { readonly onClose: () => void }) {
  const [list, setList] = useState<HandsList>("open");
  const [at, setAt] = useState(0);
  const steps = useSteps(list);
  const place = Math.min(at, Math.max(0, steps.length - 1));
  const step = steps[place];
  const preferences = useBench((bench) => bench.preferences);
  useWakeLock();
  const go = (by: number) => setAt(Math.min(steps.length - 1, Math.max(0, place + by)));
  useEffect(() => {
    const turn = (event: KeyboardEvent) => {
      // the arrow keys of the row of lists are its own
      if (event.target instanceof Element && event.target.closest(".segments") !== null) return;
      if (event.key === "ArrowRight" || event.key === "PageDown") go(1);
      else if (event.key === "ArrowLeft" || event.key === "PageUp") go(-1);
    };
    addEventListener("keydown", turn);
    return () => removeEventListener("keydown", turn);
  });
  return (
    <ModalOverlay className="hands-veil" isOpen onOpenChange={(open) => !open && onClose()}>
      <Modal className="hands-frame">
        <Dialog aria-label="For full hands">
          <div className="hands">
            <div className="hands-head">
              <Segments
                label="What is to be done"
                value={list}
                options={handsLists}
                onChange={(id) => {
                  setList(id);
                  setAt(0);
                }}
              />
              <Button
                onPress={() =>
                  void benchDeeds.prefer({
                    ...preferences,
                    light: preferences.light === "night" ? "day" : "night",
                  })
                }
              >
                {preferences.light === "night" ? "Daylight" : "Dark shop"}
              </Button>
              <Button onPress={onClose}>Leave</Button>
            </div>
            <StepText step={step} list={list} />
            <div className="hands-foot">
              <Button className="hands-turn" isDisabled={place === 0} onPress={() => go(-1)}>
                Back
              </Button>
              <span className="hands-count">
                {steps.length === 0 ? "" : `${place + 1} / ${steps.length}`}
              </span>
              <Button
                className="hands-turn"
                kind="main"
                isDisabled={place >= steps.length - 1}
                onPress={() => go(1)}
              >
                Next
              </Button>
            </div>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}

function StepText({ step, list }: { readonly step: HandsStep | undefined; readonly list: HandsList }) {
  if (step === undefined)
    return (
      <div className="hands-step" role="status">
        <p className="hands-words">
          {list === "open" ? "Nothing is open in what is computed" : "Not computed yet"}
        </p>
      </div>
    );
  return (
    <div className="hands-step" role="status">
      <p className="hands-words">
        {step.level === undefined ? null : <VerdictMark level={step.level} alone />}
        {step.step}
      </p>
      {/* the number takes the width that there is */}
      <p className="hands-figure" style={{ "--figure-length": step.figure.length } as CSSProperties}>
        {step.figure}
      </p>
    </div>
  );
}

function useSteps(list: HandsList): readonly HandsStep[] {
  const units = useUnits();
  const cuts = useDesk((desk) => desk.slots.value?.cuts ?? null);
  const document = useBench((bench) => bench.open?.document ?? null);
  const desk = useDesk();
  return useMemo(() => {
    if (list === "slots") return slotSteps(cuts, units);
    if (list === "nut") return nutSteps(cuts, units);
    if (list === "braces") return braceSteps(document);
    return openSteps(
      allVerdicts(desk).map(({ verdict }) => verdict),
      units,
    );
  }, [list, cuts, units, document, desk]);
}
