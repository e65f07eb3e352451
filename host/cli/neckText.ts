import type { NeckReport } from "#engine/pipeline";
import { millimetresOf, newtons, table, wrapped } from "./text.ts";

/** The neck under its strings, for the terminal; verdicts go with the others of the verb. */
export function neckText(report: NeckReport): string {
  const { relief, load, joint, head, tunings } = report;
  const mm = (length: number): string => millimetresOf(length, 2);
  const inlay =
    head.woodUnderInlayM === null ? "" : `, ${millimetresOf(head.woodUnderInlayM)} left under the inlay`;
  const reserve = joint.actionReserve;
  return [
    `Neck under its strings: a straightedge on frets ${relief.straightedge.fromFret} and ${relief.straightedge.toFret}
  relief               ${mm(relief.slackM)}${relief.workingForceN === null ? "" : " with the rod slack"}, ${mm(relief.wantedM)} wanted
${rodLines(report)}  nut                  rises ${mm(load.nutRiseM)} against the body, ${percent(load.secondOrderShare)} of it because the strings gain on the bent neck
  buckling             at ${load.bucklingFactor.toFixed(0)} times this load
  first weeks          ${weeksLine(report)}
  head                 ${head.angleDeg.toFixed(0)} degrees, ${millimetresOf(head.thicknessM)} thick (${head.thicknessUsual ? "tuners for 14 to 16 mm fit" : "beyond the 14 to 16 mm that tuners are made for"})${inlay}
  action in reserve    ${mm(reserve.bySaddleM)} by the saddle down to ${millimetresOf(reserve.saddleLeftM, 0)}${reserve.byJointM === 0 ? "" : `, ${mm(reserve.byJointM)} by ${joint.pitchRoomDeg.toFixed(1)} degrees of the joint`}`,
    wrapped(`The joint is ${joint.kind}: ${joint.words}.`, "  "),
    ...(tunings.length < 2
      ? []
      : [
          "Relief in every tuning, the rod left as it is",
          table([
            ["tuning", "pull", "relief"],
            ...tunings.map((t) => [t.name, newtons(t.totalN), mm(t.reliefM)]),
          ]),
        ]),
    ...(report.rods.length === 0
      ? []
      : [
          wrapped(
            "Rods: wood between board and rod, least wood under it; where its line, carried on past the nut, leaves the head's face (an inlay nearer than the second lies over it, if its channel runs out there)",
          ),
          table([
            ["rod", "over", "under", "from nut", "leaves the head"],
            ...report.rods.map((rod) => [
              rod.action === null
                ? rod.kind
                : `${rod.kind}, ${rod.action === "double" ? "two bars" : "one bar"}`,
              millimetresOf(rod.woodOverM),
              millimetresOf(rod.woodUnderM),
              millimetresOf(rod.thinnestFromNutM, 0),
              rod.leavesHeadM === null
                ? "nowhere"
                : `${millimetresOf(rod.leavesHeadM[0], 0)} to ${millimetresOf(rod.leavesHeadM[1], 0)}`,
            ]),
          ]),
        ]),
    "Strings over the nut: turn down and sideways, what they press on it",
    table([
      ["string", "down", "sideways", "press"],
      ...head.strings.map((s) => [
        String(s.string),
        degrees(s.breakAngleDeg),
        degrees(Math.abs(s.sidewaysDeg)),
        newtons(s.pressOnNutN),
      ]),
    ]),
    ...(report.assumed.length === 0
      ? []
      : [
          `Taken for the neck:\n${report.assumed
            .map((a) => wrapped(`${a.path}: ${a.value} (${a.because})`, "  ", "    "))
            .join("\n")}`,
        ]),
    wrapped(`${report.validity}.`, "  "),
  ].join("\n\n");
}

function rodLines({ relief, rods }: NeckReport): string {
  if (relief.workingForceN === null)
    return relief.withoutBarsM === null
      ? ""
      : `  without its bars     ${millimetresOf(relief.withoutBarsM, 2)}\n`;
  const mm = (length: number): string => millimetresOf(length, 2);
  const lines = [
    `  rod                  sets ${mm(Math.min(relief.leastM, relief.mostM))} to ${mm(Math.max(relief.leastM, relief.mostM))} within ${newtons(relief.workingForceN)}, half its strength`,
    relief.wantedForceN === null
      ? "  for what is wanted   out of the rod's reach"
      : `  for what is wanted   ${newtons(Math.abs(relief.wantedForceN))} in the rod${relief.wantedForceN < 0 ? ", turned the other way" : ""}`,
    ...(relief.statedForceN === null || relief.statedM === null
      ? []
      : [`  as stated            ${newtons(relief.statedForceN)} gives ${mm(relief.statedM)}`]),
    ...(relief.withoutBarsM === null ? [] : [`  without its bars     ${mm(relief.withoutBarsM)} slack`]),
    ...rods
      .filter((rod) => rod.action === "single")
      .map(
        (rod) =>
          `  rod's axis           ${mm(Math.abs(rod.underElasticCentreM))} ${rod.underElasticCentreM < 0 ? "above" : "under"} the neck's elastic centre: the arm of its force`,
      ),
  ];
  return `${lines.join("\n")}\n`;
}

function weeksLine({ firstWeeks: w }: NeckReport): string {
  const range = w.wholeM ?? w.neckM;
  const custom = w.customaryM;
  return `action over fret 12 up by ${millimetresOf(range.low, 2)} to ${millimetresOf(range.high, 2)} in ${w.weeks} weeks by creep ${w.wholeM === null ? "of the neck alone" : "of neck and body"};
                       ${millimetresOf(custom.low)} to ${millimetresOf(custom.high)} with body and joints is usual (common practice, no source)`;
}

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const degrees = (angle: number): string => `${angle.toFixed(1)} degrees`;
