import type { InstrumentSketch } from "#engine/pipeline";
import { useBench } from "../bench/index.ts";
import { SheetTools } from "./PlanTools.tsx";
import { type Subject, usePlan } from "./planState.ts";
import type { Units } from "./typed.ts";

/** Under the sheet: which side is up, what the figures of the shape are, what has just been done. */
export function PlanFoot({
  drawn,
  subject,
}: {
  readonly drawn: InstrumentSketch;
  readonly subject: Subject;
}) {
  const units = useBench((bench) => bench.preferences.units);
  const told = usePlan((plan) => plan.told);
  const general = usePlan((plan) => (plan.refusal?.handle === "" ? plan.refusal.words : null));
  return (
    <footer className="plan-foot">
      <SheetTools />
      {subject === "braces" ? null : <p className="plan-figures figures">{figures(drawn, subject, units)}</p>}
      {general === null ? null : (
        <p className="fault" role="alert">
          {general}
        </p>
      )}
      <p className="unseen" role="status">
        {told}
      </p>
    </footer>
  );
}

function figures(drawn: InstrumentSketch, subject: Subject, units: Units): string {
  const area = (m2: number): string =>
    units === "metric" ? `${(1e4 * m2).toFixed(0)} cm²` : `${(m2 / 0.0254 ** 2).toFixed(0)} sq in`;
  const volume = (m3: number): string =>
    units === "metric" ? `${(1e3 * m3).toFixed(2)} l` : `${(m3 / 0.0254 ** 3).toFixed(0)} cu in`;
  const which = subject === "hole" ? drawn.fairness.hole : drawn.fairness.outline;
  switch (subject) {
    case "outline":
    case "cutaway":
    case "hole": {
      const ratio =
        which.energyRatio === null ? "" : `bending ${which.energyRatio.toFixed(3)} of the least possible; `;
      const found =
        which.findings.length === 0
          ? "no jump, no waver of the curvature"
          : which.findings.map(({ kind, part }) => `${kind} at ${part}`).join(", ");
      const size = subject === "hole" ? `hole ${area(drawn.areas.hole)}; ` : "";
      return `${size}${ratio}${found}`;
    }
    case "box":
      return `air in the box ${volume(drawn.netVolume)} net; top ${area(drawn.areas.top)}`;
    case "braces":
      return "";
  }
}
