import type { NeckReport } from "#engine/pipeline";
import { millimetresOf, newtons, table, wrapped } from "./text.ts";

/** The neck under its strings, for the terminal; its verdicts go below it. */
export function neckText(report: NeckReport): string {
  const { relief, joint, head, tunings } = report;
  return [
    [
      `Neck under its strings: a straightedge on frets ${relief.straightedge.fromFret} and ${relief.straightedge.toFret}`,
      ...figureRows(report).map(([title, words]) => row(title, words)),
    ].join("\n"),
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

type Row = readonly [title: string, words: string];

function figureRows(report: NeckReport): readonly Row[] {
  const { relief, load, joint, head, firstWeeks: weeks } = report;
  const reserve = joint.actionReserve;
  const range = weeks.wholeM ?? weeks.neckM;
  const fit = head.thicknessUsual
    ? "tuners for 14 to 16 mm fit"
    : "beyond the 14 to 16 mm that tuners are made for";
  const inlay =
    head.woodUnderInlayM === null ? "" : `, ${millimetresOf(head.woodUnderInlayM)} left under the inlay`;
  return [
    [
      "relief",
      `${mm(relief.slackM)}${relief.workingForceN === null ? "" : " with the rod slack"}, ${mm(relief.wantedM)} wanted`,
    ],
    ...rodRows(report),
    [
      "nut",
      `rises ${mm(load.nutRiseM)} against the body, where the bend itself adds ${(100 * load.secondOrderShare).toFixed(0)} %`,
    ],
    ["buckling", `at ${load.bucklingFactor.toFixed(0)} times this load`],
    [
      "first weeks",
      `action over fret 12 up by ${mm(range.low)} to ${mm(range.high)} in ${weeks.weeks} weeks by creep ${weeks.wholeM === null ? "of the neck alone" : "of neck and body"}; ${millimetresOf(weeks.customaryM.low)} to ${millimetresOf(weeks.customaryM.high)} with body and joints is usual (${weeks.wholeM === null ? "see load; " : ""}common practice, no source)`,
    ],
    ["head", `${head.angleDeg.toFixed(0)} degrees, ${millimetresOf(head.thicknessM)} thick (${fit})${inlay}`],
    [
      "action in reserve",
      `${mm(reserve.bySaddleM)} by the saddle down to ${millimetresOf(reserve.saddleLeftM, 0)}${reserve.byJointM === 0 ? "" : `, ${mm(reserve.byJointM)} by ${joint.pitchRoomDeg.toFixed(1)} degrees of the joint`}`,
    ],
  ];
}

function rodRows({ relief, rods }: NeckReport): readonly Row[] {
  const bare: Row[] =
    relief.withoutBarsM === null
      ? []
      : [
          [
            "without its bars",
            `${mm(relief.withoutBarsM)}${relief.workingForceN === null ? "" : " with the rod slack"}`,
          ],
        ];
  if (relief.workingForceN === null) return bare;
  const [least, most] = [relief.leastM, relief.mostM].sort((a, b) => a - b);
  return [
    ["rod", `sets ${mm(least!)} to ${mm(most!)} within ${newtons(relief.workingForceN)}, half its strength`],
    [
      "for what is wanted",
      relief.wantedForceN === null
        ? "out of the rod's reach"
        : `${newtons(Math.abs(relief.wantedForceN))} in the rod${relief.wantedForceN < 0 ? ", turned the other way" : ""}`,
    ],
    ...(relief.statedForceN === null || relief.statedM === null
      ? []
      : ([["as stated", `${newtons(relief.statedForceN)} gives ${mm(relief.statedM)}`]] as const)),
    ...bare,
    ...rods
      .filter((rod) => rod.action === "single")
      .map(
        ({ underElasticCentreM: arm }): Row => [
          "rod's axis",
          `${mm(Math.abs(arm))} ${arm < 0 ? "above" : "under"} the neck's elastic centre: the arm of its force`,
        ],
      ),
  ];
}

const row = (title: string, words: string): string => wrapped(words, `  ${title.padEnd(21)}`, " ".repeat(23));
const mm = (length: number): string => millimetresOf(length, 2);
const degrees = (angle: number): string => `${angle.toFixed(1)} degrees`;
