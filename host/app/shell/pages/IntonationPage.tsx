import type { SlotsReport } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet, Table } from "../../kit/index.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { lengthFigure, lengthUnit } from "../say.ts";
import { setupStageCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** Where nut and saddle go, and what is left on each fret. */
export function IntonationPage() {
  const slots = useDesk((desk) => desk.slots);
  return (
    <>
      <Computed stage={slots} name="The offsets">
        {(report) => <Intonation report={report} />}
      </Computed>
      <Cautions words={setupStageCautions} />
    </>
  );
}

function Intonation({ report }: { readonly report: SlotsReport }) {
  const units = useUnits();
  const unit = lengthUnit(units);
  const length = (metres: number | null | undefined): string =>
    metres === null || metres === undefined ? "not foreseen" : minus(lengthFigure(metres, units));
  const frets = report.strings[0]?.frets.map(({ fret }) => fret).filter((fret) => fret > 0) ?? [];
  return (
    <>
      <Sheet heading="Offsets">
        <Table
          caption={`Behind the line of the scale, ${unit}; cents are what is left, weighted over the frets`}
          columns={["String", "Saddle", "Left, cents", "Nut too", "Saddle then", "Left, cents"]}
          rows={report.strings.map((s) => ({
            key: String(s.string),
            cells: [
              s.string,
              s.refused === null ? length(s.saddleOffsetM) : s.refused.detail,
              s.errorRmsCents?.toFixed(1) ?? "",
              length(s.ownNut?.nutOffsetM),
              length(s.ownNut?.saddleOffsetM),
              s.ownNut?.errorRmsCents.toFixed(1) ?? "",
            ],
          }))}
        />
      </Sheet>
      <Sheet heading="Left on each fret">
        <Table
          caption="Cents with the saddle moved and the nut on its line, sharp above 0"
          columns={["Fret", ...report.strings.map(({ string }) => `string ${string}`)]}
          rows={frets.map((fret) => ({
            key: String(fret),
            cells: [
              fret,
              ...report.strings.map((s) => {
                const cents = s.frets.find((f) => f.fret === fret)?.cents ?? null;
                return cents === null ? "not foreseen" : minus(cents.toFixed(1));
              }),
            ],
          }))}
        />
      </Sheet>
      {report.otherTunings.map((tuning) => (
        <Sheet key={tuning.name} heading={`Played in ${tuning.name}`}>
          <Table
            caption={`${tuning.name}, with the first tuning's offsets`}
            columns={["String", "Note", "Left, cents", "Worst, cents", "at fret", `Own saddle, ${unit}`]}
            words={[1]}
            rows={tuning.strings.map((s) => ({
              key: String(s.string),
              cells: [
                s.string,
                s.note,
                s.left?.errorRmsCents.toFixed(1) ?? s.refused?.detail ?? "",
                s.left === null ? "" : minus(s.left.worstCents.toFixed(1)),
                s.left?.worstFret ?? "",
                length(s.left?.saddleOffsetM),
              ],
            }))}
          />
        </Sheet>
      ))}
      <Validity words={report.validity} />
    </>
  );
}

function minus(text: string): string {
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}
