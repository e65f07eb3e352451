import type { SlotsReport } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet, Table } from "../../kit/index.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { ReportPictures } from "../ReportPictures.tsx";
import { lengthFigure, lengthUnit, sayLength } from "../say.ts";
import { slotCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** Slots to cut, and the cards of the shop for them. */
export function FretsPage() {
  const slots = useDesk((desk) => desk.slots);
  return (
    <>
      <Computed stage={slots} name="The slots">
        {(report) => <Frets report={report} />}
      </Computed>
      <Cautions words={slotCautions} />
      <ReportPictures kind="slots" name="Cards for board, nut, bridge and saddle" fresh={slots.fresh} />
    </>
  );
}

function Frets({ report }: { readonly report: SlotsReport }) {
  const units = useUnits();
  const { cuts } = report;
  const angle = new Map(report.slots.map(({ fret, angleDeg }) => [fret, angleDeg]));
  if (cuts === null)
    return <p className="fault-note">These frets cannot be cut so: {report.cutsRefused?.detail}</p>;
  const figure = (metres: number): string => lengthFigure(metres, units);
  return (
    <>
      <Sheet
        heading="Slots"
        beside={
          <span className="soft">
            {sayLength(cuts.slotWidthM, units)} wide, {sayLength(cuts.slotDepthM, units, 1)} deep
          </span>
        }
      >
        <Table
          caption={`From the nut line's ends along the edges, never fret to fret, ${lengthUnit(units)}`}
          columns={[
            "Fret",
            "Bass edge",
            "Treble edge",
            "Lowest string",
            "Highest string",
            "Slot",
            "Wire",
            "Angle",
          ]}
          rows={cuts.frets.map((f) => ({
            key: String(f.fret),
            cells: [
              f.fret,
              figure(f.bassEdgeM),
              figure(f.trebleEdgeM),
              figure(f.lowestStringM),
              figure(f.highestStringM),
              figure(f.slotM),
              figure(f.wireM),
              `${(angle.get(f.fret) ?? 0).toFixed(2)}°`.replace("-", "−"),
            ],
          }))}
        />
        <p className="note">
          Angle from square, above 0: bass end nearer the bridge. Fret wire in all:{" "}
          {sayLength(cuts.wireInAllM, units, 0)}.
        </p>
      </Sheet>
      <Validity words={report.validity} />
    </>
  );
}
