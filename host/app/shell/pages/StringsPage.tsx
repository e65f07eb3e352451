import { useState } from "react";
import type { ConstructionRow, StringsReport } from "#engine/pipeline";
import { formatQuantity } from "#engine/units";
import { useDesk } from "../../desk/useDesk.ts";
import { Segments, Sheet, Table } from "../../kit/index.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { lengthFigure, lengthUnit, sayForce, type Units } from "../say.ts";
import { stringCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** The set in each tuning: pull, weight, margin, feel. */
export function StringsPage() {
  const strings = useDesk((desk) => desk.strings);
  return (
    <>
      <Computed stage={strings} name="The strings">
        {(report) => <Strings report={report} />}
      </Computed>
      <Cautions words={stringCautions} />
    </>
  );
}

function Strings({ report }: { readonly report: StringsReport }) {
  const units = useUnits();
  const [tuning, setTuning] = useState(0);
  const told = report.tunings[tuning] ?? report.tunings[0]!;
  return (
    <>
      <Sheet
        heading={`Tuned to ${told.name}`}
        beside={
          report.tunings.length < 2 ? null : (
            <Segments
              label="Tuning"
              value={String(tuning)}
              options={report.tunings.map(({ name }, i) => ({ id: String(i), label: name }))}
              onChange={(id) => setTuning(Number(id))}
            />
          )
        }
      >
        <Table
          caption="Pull, margin and feel"
          columns={[
            "String",
            "Note",
            "Pull, N",
            units === "metric" ? "kgf" : "lbf",
            "Breaks at",
            "Feel, N/mm",
            "B, 10⁻⁶",
          ]}
          words={[1]}
          rows={told.strings.map((s) => ({
            key: String(s.string),
            cells: [
              s.string,
              s.note,
              s.tensionN.toFixed(0),
              formatQuantity(s.tensionN, units === "metric" ? "kgf" : "lbf", 1).split(" ")[0],
              s.state === "holds" ? s.breakMargin.toFixed(2) : `${s.breakMargin.toFixed(2)}, ${s.state}`,
              (s.feelNPerM / 1e3).toFixed(2),
              (s.inharmonicityB * 1e6).toFixed(0),
            ],
          }))}
          foot={["All", "", told.totalN.toFixed(0), sayForce(told.totalN, units).split(" ")[0], "", "", ""]}
        />
        <p className="note">
          Breaks at: times its tension, new wire. Feel: how hard it is to draw aside at the plucking place,
          its own stretch counted. B: inharmonicity, by which partial n stands sharp as √(1 + B n²).
        </p>
      </Sheet>
      <Sheet heading="The set">
        <Table
          caption="How each string is made"
          columns={[
            "String",
            "Made of",
            `Gauge, ${lengthUnit(units)}`,
            `Scale, ${lengthUnit(units)}`,
            "Weight, g/m",
            "From",
            "Rings on, s",
          ]}
          words={[1, 5]}
          rows={report.strings.map((s) => ({
            key: String(s.string),
            cells: [
              s.string,
              sayConstruction(s.construction, units),
              lengthFigure(s.diameterM, units, 3),
              lengthFigure(s.scaleLengthM, units, 1),
              formatQuantity(s.linearDensityKgPerM, "g/m", 2).split(" ")[0],
              s.weightFrom === "given" ? "weighed" : "its make",
              s.loss.partials[0]?.t60S.toFixed(0) ?? "",
            ],
          }))}
        />
        <p className="note">Rings on: time to fall by 60 dB, the string alone between rigid ends.</p>
      </Sheet>
      <Validity words={report.validity} />
    </>
  );
}

function sayConstruction(c: ConstructionRow, units: Units): string {
  const wire = (metres: number): string => lengthFigure(metres, units, 3);
  if (c.kind === "plain") return `plain ${c.material}`;
  const wraps = c.wraps.map(
    ({ diameterM, material }) => `${wire(diameterM)} ${material.replaceAll("-", " ")}`,
  );
  return `${c.coreShape === "hex" ? "hexagonal" : "round"} core ${wire(c.coreM)}, ${wraps.join(", ")}`;
}
