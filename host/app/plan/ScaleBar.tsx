import { useState } from "react";
import { inUnit } from "#engine/units";
import { useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { keepCalibration, usePlan } from "./planState.ts";
import { readTyped, type Units } from "./typed.ts";

/** A bar of a round length, and how the sheet stands to the wood. */
export function ScaleBar() {
  const units = useBench((bench) => bench.preferences.units);
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
