import type { InstrumentSketch } from "#engine/pipeline";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet, Table } from "../../kit/index.ts";
import { Cautions } from "../Cautions.tsx";
import { Computed, Validity } from "../Computed.tsx";
import { FiguresList } from "../FiguresList.tsx";
import { sayArea, sayLength, sayVolume } from "../say.ts";
import { outlineCautions } from "../stageCautions.ts";
import { useUnits } from "../useUnits.ts";

/** What the curves enclose, and whether they run fair. */
export function OutlinePage() {
  const sketch = useDesk((desk) => desk.sketch);
  return (
    <>
      <Computed stage={sketch} name="The outline">
        {(value) => <Outline sketch={value} />}
      </Computed>
      <Cautions words={outlineCautions} />
    </>
  );
}

function Outline({ sketch }: { readonly sketch: InstrumentSketch }) {
  const units = useUnits();
  const { areas, sides, top, back, hole } = sketch;
  const curves = [
    { name: "outline, before its cutaway", report: sketch.fairness.outline },
    { name: "sound hole", report: sketch.fairness.hole },
  ];
  const findings = curves.flatMap(({ name, report }) => report.findings.map((found) => ({ name, found })));
  return (
    <>
      <Sheet heading="Sizes">
        <FiguresList
          rows={[
            ["Length", sayLength(sketch.length, units, 1)],
            ["Inside the edge", sayArea(areas.plan, units)],
            ["The top as cut, flat", sayArea(areas.top, units)],
            [
              "The hole",
              `${sayArea(areas.hole, units)}${hole.meetsEdge ? ", it meets the body's edge" : ""}`,
            ],
            ["The box, empty", sayVolume(sketch.grossVolume, units)],
            ["Air in it, less braces, blocks and linings", sayVolume(sketch.netVolume, units)],
            [
              "Depth",
              `${sayLength(sides.depthAtTail, units, 1)} at the tail, ${sayLength(sides.depthAtNeck, units, 1)} at the neck`,
            ],
            ["Top, mean thickness", sayLength(top.meanThickness, units)],
            ["Back, mean thickness", sayLength(back.meanThickness, units)],
          ]}
        />
      </Sheet>
      <Sheet heading="Fairness">
        <Table
          caption="Bending of each curve against the smoothest through the same stations"
          columns={["Curve", "times the least", "Places that jump or waver"]}
          words={[0]}
          rows={curves.map(({ name, report }) => ({
            key: name,
            cells: [name, report.energyRatio?.toFixed(2) ?? "not foreseen", report.findings.length],
          }))}
        />
        {findings.length === 0 ? null : (
          <ul>
            {findings.map(({ name, found }) => (
              <li key={`${name} ${found.place[0]} ${found.place[1]}`}>
                {name}: a {found.kind} {sayLength(found.place[0], units, 0)} from the tail,{" "}
                {sayLength(Math.abs(found.place[1]), units, 0)} off the centreline,
                {found.part}
              </li>
            ))}
          </ul>
        )}
        <Validity words="geometry as drawn; what counts as a jump or a waver is our own judgement, no source" />
      </Sheet>
    </>
  );
}
