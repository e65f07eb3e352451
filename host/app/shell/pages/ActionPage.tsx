import type { SetupReport } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet, Table } from "../../kit/index.ts";
import { Assumed } from "../Assumed.tsx";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { FiguresList } from "../FiguresList.tsx";
import { ReportPictures } from "../ReportPictures.tsx";
import { lengthFigure, lengthUnit, sayLength } from "../say.ts";
import { setupStageCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** Heights of the strings over frets, bridge and top. */
export function ActionPage() {
  const setup = useDesk((desk) => desk.setup);
  return (
    <>
      <Computed stage={setup} name="The setup">
        {(report) => <Action report={report} />}
      </Computed>
      <Cautions words={setupStageCautions} />
      <ReportPictures kind="setup" name="Cards for nut, saddle and action" fresh={setup.fresh} />
    </>
  );
}

function Action({ report }: { readonly report: SetupReport }) {
  const units = useUnits();
  const unit = lengthUnit(units);
  const { neck, saddle, reach } = report;
  const signed = (metres: number): string =>
    `${metres >= 0 ? "+" : "−"}${lengthFigure(Math.abs(metres), units)}`;
  return (
    <>
      <Sheet heading="Strings over frets and saddle">
        <Table
          caption={`Underside of the open string, ${unit}`}
          columns={[
            "String",
            "Note",
            "over fret 1",
            "over fret 12",
            "at the bridge",
            "saddle, move",
            "break angle",
          ]}
          words={[1]}
          rows={report.strings.map((s) => ({
            key: String(s.string),
            cells: [
              s.string,
              s.note,
              lengthFigure(s.actionM[1] ?? 0, units),
              s.actionM[12] === undefined ? "" : lengthFigure(s.actionM[12], units),
              lengthFigure(s.heightAtBridgeM, units, 1),
              signed(s.saddleMoveM),
              `${s.breakAngleDeg.toFixed(1)}°`,
            ],
          }))}
        />
        <p className="note">
          A move above 0 raises the saddle; it is against the heights that the document states.
        </p>
      </Sheet>
      <Sheet heading="Neck and bridge">
        <FiguresList
          rows={[
            ["Neck's pitch", `${neck.pitchDeg.toFixed(2)}°`],
            ["Relief", sayLength(neck.reliefM, units)],
            ["Board over the top at the body's end", sayLength(neck.boardHeightM, units, 1)],
            [
              "A straightedge on the frets passes the bridge",
              neck.straightedgeOverBridgeM < 0
                ? `${sayLength(-neck.straightedgeOverBridgeM, units)} below its upper face`
                : `${sayLength(neck.straightedgeOverBridgeM, units)} above its upper face`,
            ],
            [
              "Saddle, bass end",
              `${sayLength(saddle.bassAskedM, units)} over the top, ${signed(saddle.bassMoveM)} ${unit}`,
            ],
            [
              "Saddle, treble end",
              `${sayLength(saddle.trebleAskedM, units)} over the top, ${signed(saddle.trebleMoveM)} ${unit}`,
            ],
            [
              "The hand reaches",
              reach.limit === "board"
                ? `the last fret, ${reach.lastFret}`
                : `fret ${reach.fret} of ${reach.lastFret}; the ${reach.limit} stops it`,
            ],
          ]}
        />
      </Sheet>
      <Assumed values={report.assumed} />
      <Validity words={report.validity} />
    </>
  );
}
