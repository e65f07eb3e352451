import type { LoadReport } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet, Table } from "../../kit/index.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { FiguresList } from "../FiguresList.tsx";
import { lengthFigure, lengthUnit, sayForce } from "../say.ts";
import { loadStageCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** What the strings do to the guitar, and what bears it. */
export function LoadPage() {
  const load = useDesk((desk) => desk.load);
  return (
    <>
      <Computed stage={load} name="The load" heavy="load">
        {(report) => <Load report={report} />}
      </Computed>
      <Cautions words={load.value?.cautions ?? loadStageCautions} />
    </>
  );
}

/** Margins shown before the rest is asked for. */
const firstMargins = 12;

function Load({ report }: { readonly report: LoadReport }) {
  const units = useUnits();
  const unit = lengthUnit(units);
  const { bridge, buckling, neckBlock, glueLine } = report;
  const signed = (metres: number): string =>
    `${metres >= 0 ? "+" : "−"}${lengthFigure(Math.abs(metres), units)}`;
  const rows = [
    ...report.tunings.map((row) => ({ row, name: row.name })),
    ...report.variants.slice(1).map((row) => ({ row, name: row.name })),
    ...report.climates.map((row) => ({ row, name: `${row.name}, the air alone` })),
  ];
  const known = report.margins.filter(({ margin }) => margin !== null);
  return (
    <>
      <Sheet heading="Elastic, perfect joints assumed">
        <FiguresList
          rows={[
            ["The strings pull", sayForce(report.totalN, units)],
            [
              "The bridge rolls",
              `${Math.abs(bridge.rotationDeg).toFixed(2)}° ${bridge.rotationDeg >= 0 ? "toward the nut" : "toward the tail"}`,
            ],
            ["turned by", `${bridge.momentNm.toFixed(1)} N m`],
            [
              `The saddle ${bridge.saddleRiseM < 0 ? "sinks" : "rises"}`,
              `${lengthFigure(Math.abs(bridge.saddleRiseM), units)} ${unit}`,
            ],
            ["The top moves", `${signed(bridge.topLeastM)} to ${signed(bridge.topGreatestM)} ${unit}`],
            [
              "The neck block tilts and twists",
              `${neckBlock.tiltDeg.toFixed(2)}° and ${neckBlock.twistDeg.toFixed(2)}°`.replaceAll("-", "−"),
            ],
            [
              "Buckles at",
              buckling.factor === null
                ? "no load found"
                : `${buckling.factor.toFixed(1)} times this load by the linear model; half of it can be counted on`,
            ],
            ...(glueLine === null
              ? []
              : [
                  [
                    "Glue under the bridge",
                    `${(glueLine.area * 1e4).toFixed(1)} cm², mean shear ${(glueLine.shear.mean / 1e6).toFixed(2)} MPa`,
                  ] as const,
                ]),
          ]}
        />
        <Validity words={bridge.validity} />
      </Sheet>
      <Sheet heading="Tunings, other bodies, other air">
        <Table
          caption={`Turns in degrees; saddle and action over fret 12 in ${unit}`}
          columns={["Case", "Bridge", "Saddle", "Block tilt", "Twist", "Action, highest", "Action, lowest"]}
          words={[0]}
          rows={rows.map(({ row, name }) => ({
            key: name,
            cells: [
              name,
              turn(row.bridgeRotationDeg),
              signed(row.saddleRiseM),
              turn(row.neckTiltDeg),
              turn(row.neckTwistDeg),
              signed(row.actionChangeM[0] ?? 0),
              signed(row.actionChangeM.at(-1) ?? 0),
            ],
          }))}
        />
        <p className="note">
          Air alone: what that air does to the shape on top of the strings, none of their pull in it.
        </p>
      </Sheet>
      <Sheet
        heading="Stress against what bears it for fifty years"
        beside={<span className="soft">least margin first</span>}
      >
        <Margins rows={known.slice(0, firstMargins)} caption="The least margins" />
        {known.length <= firstMargins ? null : (
          <details>
            <summary>The other {known.length - firstMargins}</summary>
            <Margins rows={known.slice(firstMargins)} caption="The other margins" />
          </details>
        )}
        <p className="note">
          Margin: what bears it over what is there; below 1 it would give. Weak: one board or joint in twenty
          is weaker. A peak is a single point where stiffness changes at once: watched, never a stop.
        </p>
      </Sheet>
      <Sheet heading="What the years add">
        <Table
          caption="Times the elastic rotation and sinking"
          columns={["Years", "Least", "Likely", "Most"]}
          rows={report.creep.map((c) => ({
            key: String(c.years),
            cells: [c.years, c.low.toFixed(1), c.likely.toFixed(1), c.high.toFixed(1)],
          }))}
        />
        {report.creep[0] === undefined ? null : <Validity words={report.creep[0].validity} />}
      </Sheet>
    </>
  );
}

function Margins({ rows, caption }: { readonly rows: LoadReport["margins"]; readonly caption: string }) {
  return (
    <Table
      caption={caption}
      columns={["Margin", "Weak", "Where", "What", "Stress, MPa", "Bears, MPa"]}
      words={[2, 3]}
      rows={rows.map((row) => ({
        key: `${row.part} ${row.what} ${row.conditions}`,
        cells: [
          <span key="m" className={row.margin !== null && row.margin < 1 && !row.peak ? "accent" : ""}>
            {row.margin?.toFixed(2)}
            {row.peak ? " peak" : ""}
          </span>,
          row.weakMargin?.toFixed(2) ?? "",
          row.part,
          `${row.what}; ${row.conditions}`,
          (row.stressPa / 1e6).toFixed(1).replace("-", "−"),
          row.strengthPa === null ? "" : (row.strengthPa / 1e6).toFixed(1),
        ],
      }))}
    />
  );
}

function turn(degrees: number): string {
  return degrees.toFixed(2).replace("-", "−");
}
