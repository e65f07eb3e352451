import { useState } from "react";
import type { SetupReport } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Segments, Sheet, Table } from "../../kit/index.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { lengthFigure, lengthUnit, sayLength } from "../say.ts";
import { setupStageCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** How near each plucked string comes to the frets ahead of it. */
export function BuzzPage() {
  const setup = useDesk((desk) => desk.setup);
  return (
    <>
      <Computed stage={setup} name="The setup">
        {(report) => <Buzz report={report} />}
      </Computed>
      <Cautions words={setupStageCautions} />
    </>
  );
}

type Pluck = "soft" | "normal" | "hard";

function Buzz({ report }: { readonly report: SetupReport }) {
  const units = useUnits();
  const unit = lengthUnit(units);
  const [tuning, setTuning] = useState("0");
  const [pluck, setPluck] = useState<Pluck>("normal");
  const told = report.tunings[Number(tuning)] ?? report.tunings[0]!;
  const strings = told.strings.map((s) => ({ ...s, told: s.plucks.find((p) => p.pluck === pluck)! }));
  const frets = strings[0]?.told.clearanceM.map((_, fret) => fret) ?? [];
  const displaced = { soft: report.pluck.softM, normal: report.pluck.normalM, hard: report.pluck.hardM }[
    pluck
  ];
  return (
    <>
      <Sheet
        heading="Room over the frets ahead"
        beside={
          <div className="row">
            <Segments
              label="Pluck"
              value={pluck}
              options={[
                { id: "soft", label: "Soft" },
                { id: "normal", label: "Normal" },
                { id: "hard", label: "Hard" },
              ]}
              onChange={setPluck}
            />
            {report.tunings.length < 2 ? null : (
              <Segments
                label="Tuning"
                value={tuning}
                options={report.tunings.map(({ name }, i) => ({ id: String(i), label: name }))}
                onChange={setTuning}
              />
            )}
          </div>
        }
      >
        <Table
          caption={`Least room over a fret ahead, ${unit}, drawn aside by ${sayLength(displaced, units, 1)}; “strikes” is below 0`}
          columns={["Fret", ...strings.map(({ string, note }) => `${string}, ${note}`)]}
          rows={frets.map((fret) => ({
            key: String(fret),
            cells: [
              fret === 0 ? "open" : fret,
              ...strings.map(({ string, told: t }) => {
                const room = t.clearanceM[fret] ?? null;
                if (room === null) return "";
                const over = t.overFret[fret];
                return room < 0 ? (
                  <strong key={string} className="accent">
                    strikes {over}
                  </strong>
                ) : (
                  lengthFigure(room, units)
                );
              }),
            ],
          }))}
        />
      </Sheet>
      <Sheet heading="What would clear it">
        <Table
          caption={`Least action over fret 12, and at the nut, from which nothing strikes, ${unit}`}
          columns={["String", "Action", "At the nut", "Notes that strike"]}
          rows={strings.map(({ string, told: t }) => ({
            key: String(string),
            cells: [
              string,
              t.leastActionM === null ? "" : lengthFigure(t.leastActionM, units),
              t.leastNutClearanceM === null ? "" : lengthFigure(t.leastNutClearanceM, units),
              t.buzzingFrets.length,
            ],
          }))}
        />
        <Table
          caption="Other reliefs under a normal pluck, the action over fret 12 kept"
          columns={[`Relief, ${unit}`, `Least room, ${unit}`, "Notes that strike"]}
          rows={report.reliefs.map((r) => ({
            key: String(r.reliefM),
            cells: [
              lengthFigure(r.reliefM, units),
              lengthFigure(r.leastClearanceM, units).replace("-", "−"),
              r.buzzingNotes,
            ],
          }))}
        />
      </Sheet>
      <Validity words={report.validity} />
    </>
  );
}
