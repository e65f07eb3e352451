import type { NeckReport } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet, Table } from "../../kit/index.ts";
import { Assumed } from "../Assumed.tsx";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { FiguresList } from "../FiguresList.tsx";
import { lengthFigure, lengthUnit, sayLength } from "../say.ts";
import { neckCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** The neck under its strings: relief, rods, head and joint. */
export function NeckPage() {
  const neck = useDesk((desk) => desk.neck);
  return (
    <>
      <Computed stage={neck} name="The neck">
        {(report) => <Neck report={report} />}
      </Computed>
      <Cautions words={neckCautions} />
    </>
  );
}

function Neck({ report }: { readonly report: NeckReport }) {
  const units = useUnits();
  const unit = lengthUnit(units);
  const { relief, load, head, joint, firstWeeks } = report;
  const force = (newtons: number | null): string => (newtons === null ? "none" : `${newtons.toFixed(0)} N`);
  const rise = firstWeeks.wholeM ?? firstWeeks.neckM;
  return (
    <>
      <Sheet heading="Relief">
        <FiguresList
          rows={[
            ["Wanted", sayLength(relief.wantedM, units)],
            ["Under the strings, rod slack", sayLength(relief.slackM, units)],
            ...(relief.statedM === null
              ? []
              : [
                  [
                    `With the rod at ${force(relief.statedForceN)}`,
                    sayLength(relief.statedM, units),
                  ] as const,
                ]),
            ["Force that gives the relief wanted", force(relief.wantedForceN)],
            ["What the rod sets", `${sayLength(relief.leastM, units)} to ${sayLength(relief.mostM, units)}`],
            ...(relief.withoutBarsM === null
              ? []
              : [["Without the stiff bars, rod slack", sayLength(relief.withoutBarsM, units)] as const]),
          ]}
        />
        <Table
          caption={`In every tuning, the rod left as it is set, ${unit}`}
          columns={["Tuning", "Pull, N", "Relief"]}
          rows={report.tunings.map((t) => ({
            key: t.name,
            cells: [t.name, t.totalN.toFixed(0), lengthFigure(t.reliefM, units)],
          }))}
          words={[0]}
        />
      </Sheet>
      <Sheet heading="Load and first weeks">
        <FiguresList
          rows={[
            ["Pressed along by", `${load.axialN.toFixed(0)} N`],
            ["Bent at the joint by", `${load.momentAtJointNm.toFixed(1)} N m`],
            ["Would buckle at", `${load.bucklingFactor.toFixed(0)} times this pull`],
            [
              `Action after ${firstWeeks.weeks} weeks`,
              `higher by ${sayLength(rise.likely, units)}, between ${sayLength(rise.low, units)} and ${sayLength(rise.high, units)}`,
            ],
            [
              "Customary",
              `${sayLength(firstWeeks.customaryM.low, units)} to ${sayLength(firstWeeks.customaryM.high, units)} (common practice, no source)`,
            ],
          ]}
        />
      </Sheet>
      {report.rods.length === 0 ? null : (
        <Sheet heading="Rods and the wood around them">
          <Table
            caption={`Wood left, ${unit}`}
            columns={["Rod", "Kind", "over it", "under it", "under it at the head", "Strength, N"]}
            words={[1]}
            rows={report.rods.map((r) => ({
              key: String(r.rod),
              cells: [
                r.rod,
                r.kind,
                lengthFigure(r.woodOverM, units, 1),
                lengthFigure(r.woodUnderM, units, 1),
                lengthFigure(r.woodUnderAtHeadM, units, 1),
                r.strengthN?.toFixed(0) ?? "",
              ],
            }))}
          />
        </Sheet>
      )}
      <Sheet heading="Head">
        <Table
          caption={`Head at ${head.angleDeg.toFixed(1)}°, ${sayLength(head.thicknessM, units, 1)} thick`}
          columns={["String", "break over the nut", "sideways", "press, N", "side push, N"]}
          rows={head.strings.map((s) => ({
            key: String(s.string),
            cells: [
              s.string,
              `${s.breakAngleDeg.toFixed(1)}°`,
              `${s.sidewaysDeg.toFixed(1)}°`.replace("-", "−"),
              s.pressOnNutN.toFixed(0),
              s.sidePushN.toFixed(1).replace("-", "−"),
            ],
          }))}
        />
      </Sheet>
      <Sheet heading="Joint">
        <FiguresList
          rows={[
            ["Kind", joint.words],
            ["Room to change the pitch", `${joint.pitchRoomDeg.toFixed(2)}°`],
            [
              "Action it can still be lowered by",
              `${sayLength(joint.actionReserve.bySaddleM, units)} at the saddle, ${sayLength(joint.actionReserve.byJointM, units)} at the joint`,
            ],
          ]}
        />
      </Sheet>
      <Assumed values={report.assumed} />
      <Validity words={report.validity} />
    </>
  );
}
