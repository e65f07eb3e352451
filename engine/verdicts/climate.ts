import { sayLength, sayList } from "./say.ts";
import type { Verdict } from "./verdict.ts";

/** What one climate does to the guitar that the shop's air has made, long enough for the wood to follow. */
export interface ClimateCase {
  /** "winter home", "damp summer", "hot car". */
  readonly name: string;
  readonly relativeHumidity: number;
  /** K */
  readonly temperature: number;
  /** Moisture of the wood, fraction, in the shop and there. */
  readonly moisture: readonly [shop: number, there: number];
  /** Rise of the top at the saddle (m, outward) against the shop; null where it was not computed. */
  readonly saddleRise: number | null;
  /** Change of action over fret 12 (m), the most moved string; null where it was not computed. */
  readonly actionChange: number | null;
  /** True for air that lasts hours, not weeks: the wood does not get so far, so it is told as the end it tends to and not judged. */
  readonly brief?: boolean;
  /** Least margin in tension across the grain, and where; null where not known. */
  readonly across: { readonly margin: number; readonly part: string } | null;
}

const cracksBelow = 1;
const watchBelow = 1.5;
const actionWatch = 8e-4;

/**
 * Cracks across the grain, dome and action in other air than the shop's. Elastic stress is high by a third to a half: wood
 * relaxes while it dries slowly. Margin below 1.5 or an action that moves by more than 0.8 mm: watch, never more, because
 * a humid case prevents it. Common practice, no source.
 */
export function climate(cases: readonly ClimateCase[]): Verdict {
  const lasting = cases.filter((c) => c.brief !== true);
  const poor = lasting.flatMap(({ name, across }) =>
    across !== null && across.margin < watchBelow ? [{ name, across }] : [],
  );
  const moved = lasting.filter((c) => c.actionChange !== null && Math.abs(c.actionChange) > actionWatch);
  const signed = (m: number): string => `${m >= 0 ? "+" : "-"}${sayLength(Math.abs(m), 2)}`;
  const told = cases.map((c) => {
    const parts = [
      `wood at ${(100 * c.moisture[1]).toFixed(1)} % instead of ${(100 * c.moisture[0]).toFixed(1)} %`,
      c.saddleRise === null ? null : `top at the saddle ${signed(c.saddleRise)}`,
      c.actionChange === null ? null : `action ${signed(c.actionChange)}`,
      c.across === null
        ? null
        : `least margin across the grain ${c.across.margin.toFixed(1)} (${c.across.part})`,
    ].filter((p) => p !== null);
    const end = c.brief === true ? ", the end it tends to" : "";
    return `${c.name} (${(100 * c.relativeHumidity).toFixed(0)} %RH${end}): ${parts.join(", ")}`;
  });
  const why = [
    ...poor.map(
      ({ across, name }) =>
        `${across.part} ${across.margin < cracksBelow ? "may crack" : "has little to spare"} along the grain in ${name}`,
    ),
    ...moved.map((c) => `the action moves by ${sayLength(Math.abs(c.actionChange ?? 0), 1)} in ${c.name}`),
  ];
  return {
    id: "climate",
    title: "Other air than the shop's",
    level: why.length > 0 ? "watch" : "good",
    computed: told.join("; "),
    limit: `watch where the margin across the grain is below ${watchBelow} or the action moves more than ${sayLength(actionWatch, 1)}`,
    source:
      "moisture WH-EMC, movement WH-T43 and WH-MOIST, strength WH-T53 (from memory); limits: common practice, no source",
    why:
      why.length > 0 ? sayList(why, 4) : "plates, dome and action bear the climates that the document names",
    whatWouldChange:
      "brace and close the box in drier air; a humid case in winter (40 to 50 %RH); a top of quarter-cut wood; more dome; braces across the grain no stiffer than they must be",
    sureness:
      "elastic, wood in balance with the air all through, places within 20 mm of a block left out: real stress is a third to a half less when the air changes slowly, and more on one face when it changes fast",
    figures: Object.fromEntries(
      cases.flatMap((c, i) => [
        ...(c.saddleRise === null ? [] : [[`saddleRise${i + 1}`, c.saddleRise]]),
        ...(c.actionChange === null ? [] : [[`actionChange${i + 1}`, c.actionChange]]),
        ...(c.across === null ? [] : [[`acrossMargin${i + 1}`, c.across.margin]]),
      ]),
    ),
    canHurt: false,
  };
}
