import { useState } from "react";
import type { InstrumentSketch } from "#engine/pipeline";
import { inUnit } from "#engine/units";
import { useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { keepCalibration, type Subject, usePlan } from "./planState.ts";
import { readTyped, type Units } from "./typed.ts";

/** Under the sheet: scale, what the figures of the shape are, what has just been done. */
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
      <ScaleBar units={units} />
      <p className="plan-figures figures">{figures(drawn, subject, units)}</p>
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
      return `${drawn.top.braces.length} braces on the top, ${drawn.back.braces.length} on the back`;
  }
}

/** A bar of a round length, and how the sheet stands to the wood. */
function ScaleBar({ units }: { readonly units: Units }) {
  const { view, pxPerMm } = usePlan();
  const [ruling, setRuling] = useState(false);
  if (view === null) return null;
  const mm = barMm(view.scale, units);
  const shown = units === "metric" ? `${mm} mm` : `${Math.round(100 * inUnit(mm / 1000, "in")) / 100} in`;
  const ratio = view.scale / pxPerMm;
  const real = Math.abs(ratio - 1) < 1e-6;
  const words = real ? "real size" : ratio > 1 ? `${ratio.toFixed(1)} : 1` : `1 : ${(1 / ratio).toFixed(1)}`;
  return (
    <div className="plan-scale">
      <svg className="plan-bar" width={mm * view.scale + 2} height={12} aria-hidden="true">
        <path d={`M1 1V11M${mm * view.scale + 1} 1V11M1 6H${mm * view.scale + 1}`} />
      </svg>
      <span className="figures">
        {shown}, {words}
      </span>
      {real ? (
        <Button kind="quiet" expanded={ruling} onPress={() => setRuling(!ruling)}>
          Check with a ruler
        </Button>
      ) : null}
      {real && ruling ? <RulerCheck barMm={mm} units={units} /> : null}
    </div>
  );
}

/** The maker lays a ruler on the bar and types what it reads. */
function RulerCheck({ barMm: mm, units }: { readonly barMm: number; readonly units: Units }) {
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | null>(null);
  const commit = () => {
    const read = readTyped(typed, "length", units);
    if (!read.ok) return setFault(read.fault);
    const { pxPerMm, view } = usePlan.getState();
    const truer = (pxPerMm * mm) / (1000 * read.value);
    if (!(truer > 1 && truer < 20)) return setFault("This screen cannot be so coarse or so fine.");
    setFault(null);
    keepCalibration(truer);
    if (view !== null) usePlan.setState({ view: { ...view, scale: truer } });
  };
  return (
    <label className="plan-ruler">
      <span>The bar on the ruler</span>
      <input
        className="line"
        value={typed}
        autoComplete="off"
        aria-invalid={fault !== null}
        onChange={(event) => setTyped(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === "Enter") commit();
        }}
      />
      {fault === null ? null : <span className="fault">{fault}</span>}
    </label>
  );
}

const roundMm = [1, 2, 5, 10, 20, 50, 100, 200, 500];
const roundInch = [0.125, 0.25, 0.5, 1, 2, 4, 8, 16];

/** The largest round length that is drawn no longer than this, px. */
const longestBar = 170;

function barMm(scale: number, units: Units): number {
  const rounds = units === "metric" ? roundMm : roundInch.map((inch) => inch * 25.4);
  return rounds.findLast((mm) => mm * scale <= longestBar) ?? rounds[0]!;
}
