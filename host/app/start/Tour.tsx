import "./start.css";
import { useEffect, useId, useRef } from "react";
import { Button, IconButton } from "../kit/index.ts";
import { goToStep, leaveTour, tourSteps, useTour } from "./tourSteps.ts";

/** The tour's own slip of paper over the foot of the page. The page stays usable beside it; Escape or Leave ends it at any stop. */
export function Tour() {
  const at = useTour((tour) => tour.step);
  const step = at === null ? undefined : tourSteps[at];
  const slip = useRef<HTMLElement>(null);
  const heading = useId();
  useFramed(step?.at);
  useEffect(() => {
    if (at === null) return;
    slip.current?.focus({ preventScroll: true });
    const leave = (event: KeyboardEvent) => {
      if (event.key === "Escape" && !event.defaultPrevented) leaveTour();
    };
    addEventListener("keydown", leave);
    return () => removeEventListener("keydown", leave);
  }, [at]);
  if (at === null || step === undefined) return null;
  const last = at === tourSteps.length - 1;
  return (
    <section ref={slip} tabIndex={-1} className="tour" aria-labelledby={heading}>
      <div className="tour-head">
        <h2 id={heading}>{step.title}</h2>
        <IconButton label="Leave the tour" sign="close" onPress={leaveTour} />
      </div>
      <p>{step.words}</p>
      <div className="tour-foot">
        <span className="note">
          {at + 1} of {tourSteps.length}
        </span>
        <Button isDisabled={at === 0} onPress={() => goToStep(at - 1)}>
          Back
        </Button>
        <Button kind="main" onPress={() => goToStep(at + 1)}>
          {last ? "To the bench" : "Next"}
        </Button>
      </div>
    </section>
  );
}

/** Frames the part of the page that is meant, as soon as it is there. */
function useFramed(selector: string | undefined): void {
  useEffect(() => {
    if (selector === undefined) return;
    let framed: Element | null = null;
    const frame = () => {
      const part = document.querySelector(selector);
      if (part === framed) return;
      framed?.removeAttribute("data-toured");
      part?.setAttribute("data-toured", "");
      framed = part;
    };
    frame();
    const watcher = new MutationObserver(frame);
    watcher.observe(document.body, { childList: true, subtree: true });
    return () => {
      watcher.disconnect();
      framed?.removeAttribute("data-toured");
    };
  }, [selector]);
}
