import type { Json } from "../bench/index.ts";
import {
  type BriefAnswers,
  briefTunings,
  holeChoices,
  reachChoices,
  sizeChoices,
  styleChoices,
} from "./briefAnswers.ts";
import { changedLength, isRecord } from "./mapped.ts";
import { othersWood } from "./othersWood.ts";
import { letDown, pulledStrings } from "./pulledStrings.ts";
import { scaledPlan } from "./scaledPlan.ts";

/** What a rule did, and why. */
export interface BriefRule {
  readonly what: string;
  readonly why: string;
}

export interface BriefDesign {
  readonly example: ExampleName;
  /** The new document. */
  readonly text: string;
  readonly rules: readonly BriefRule[];
}

export type ExampleName = "small-ladder" | "cross-braced" | "low-radial";

/** The nearest example by hole and size, and the factor on its whole plan. */
const nearest: Readonly<
  Record<BriefAnswers["hole"], Readonly<Record<BriefAnswers["size"], readonly [ExampleName, number]>>>
> = {
  middle: { small: ["small-ladder", 1], middle: ["cross-braced", 1], large: ["cross-braced", 1.04] },
  edge: { small: ["low-radial", 0.94], middle: ["low-radial", 0.97], large: ["low-radial", 1] },
};

export function nearestExample({ hole, size }: Pick<BriefAnswers, "hole" | "size">): ExampleName {
  return nearest[hole][size][0];
}

type Section = { readonly [key: string]: Json };

/**
 * A complete document from the answers: the nearest example, changed by a few plain rules, each with its reason. `exampleText`: the document of
 * `nearestExample`.
 */
export function fromBrief(answers: BriefAnswers, exampleText: string): BriefDesign {
  const [example, factor] = nearest[answers.hole][answers.size];
  const read = JSON.parse(exampleText) as Json;
  const plan = othersWood(scaledPlan(read, factor));
  if (!isRecord(read) || !isRecord(plan)) throw new Error(`the example ${example} is no document`);
  const { log: _log, meant: _meant, targets: _targets, name: exampleName, ...kept } = plan;
  const strings = section(kept, "strings");
  const sameNotes = notesOf(strings).join() === briefTunings[answers.tuning].notes.join();
  const wider = saddleWider(
    letDown(strings["set"]!, briefTunings[answers.tuning], factor),
    factor,
    sameNotes,
  );
  const document: Section = {
    ...kept,
    name: nameOf(answers),
    brief: briefOf(answers),
    hand: answers.hand,
    strings: stringsOf(strings, answers, factor),
    fingerboard: boardOf(section(kept, "fingerboard"), answers),
    saddle: saddleOf(section(kept, "saddle"), answers, wider),
  };
  const rules: BriefRule[] = [
    {
      what: `Begun from the example ${String(exampleName)}${factor === 1 ? "" : `, its whole plan times ${factor}`}.`,
      why:
        factor === 1
          ? "It is the nearest of the examples in hole and size."
          : "It is the nearest in its hole; in proportion, scale length included, bridge, braces and hole keep their places in the body.",
    },
    {
      what:
        sameNotes && factor === 1 ? "Its set of strings is kept." : "Gauges follow the notes and the length.",
      why:
        sameNotes && factor === 1
          ? "It is made for this tuning on this length."
          : "Each diameter changes as pitch and length do the other way, so that every string pulls as it did on the example and the bracing meets the same load.",
    },
    ...reachRule(answers),
    ...actionRule(answers),
    ...saddleRule(wider),
    {
      what: "What the example's maker measured counts as assumed here, with the spread from board to board.",
      why: "Another guitar's boards are not yours: weigh, bend and knock your own, and the ranges narrow.",
    },
    {
      what: "The example's log, targets and marked verdicts are left out.",
      why: "They were agreed and measured for another player's guitar.",
    },
  ];
  return { example, text: `${JSON.stringify(document, null, 2)}\n`, rules };
}

function section(document: Section, key: string): Section {
  const found = document[key];
  if (!isRecord(found)) throw new Error(`the example has no ${key}`);
  return found;
}

function notesOf(strings: Section): readonly string[] {
  return (strings["set"] as readonly Section[]).map((own) => String(own["note"]));
}

function nameOf({ client }: BriefAnswers): string {
  const trimmed = client.trim();
  return trimmed === "" ? "New guitar" : `Guitar for ${trimmed}`.slice(0, 120);
}

/** Labels of the answers in words, for what the maker wrote nothing about. */
function briefOf(answers: BriefAnswers): Section {
  const label = <Id extends string>(choices: readonly { id: Id; label: string }[], id: Id) =>
    choices.find((choice) => choice.id === id)!.label.toLowerCase();
  const tuning = briefTunings[answers.tuning];
  const wishes = answers.wishes.trim();
  const client = answers.client.trim();
  return {
    ...(client === "" ? {} : { client: client.slice(0, 200) }),
    wishes:
      wishes === ""
        ? `a ${label(sizeChoices, answers.size)} body, hole ${label(holeChoices, answers.hole)}`
        : wishes,
    style: `${label(styleChoices, answers.style)}, ${[tuning, ...tuning.also].map(({ name }) => name).join(" and ")}`,
    reach: label(reachChoices, answers.reach),
  };
}

function stringsOf(strings: Section, answers: BriefAnswers, factor: number): Section {
  const tuning = briefTunings[answers.tuning];
  const { tunings: _tunings, ...kept } = strings;
  const action = section(strings, "action");
  const higher = actionChange[answers.style];
  return {
    ...kept,
    set: pulledStrings(strings["set"]!, tuning, factor),
    tuningName: tuning.name,
    ...(tuning.also.length === 0 ? {} : { tunings: tuning.also }),
    spreadAtNut: changedLength(strings["spreadAtNut"]!, (x) => x + widthChange[answers.reach], 0.1),
    action: {
      bass: changedLength(action["bass"]!, (x) => x + higher, 0.05),
      treble: changedLength(action["treble"]!, (x) => x + higher, 0.05),
    },
  };
}

/** mm at the nut, on the board and on the spread of the strings alike. */
const widthChange: Readonly<Record<BriefAnswers["reach"], number>> = { small: -1.5, usual: 0, wide: 1.5 };
/** mm over fret 12. */
const actionChange: Readonly<Record<BriefAnswers["style"], number>> = { fingers: 0, both: 0.1, pick: 0.2 };

function boardOf(board: Section, { reach }: BriefAnswers): Section {
  return { ...board, widthAtNut: changedLength(board["widthAtNut"]!, (x) => x + widthChange[reach], 0.1) };
}

/** mm of saddle for each semitone by which the strings get heavier, and for a set of other intervals. */
const saddlePerSemitone = 0.8;
const saddleForOthers = 1.2;

/** By how much the saddle is wider than the example's, mm: fitted to the verdict on the saddle's slot. */
function saddleWider(lower: number, factor: number, sameNotes: boolean): number {
  const shortened = Math.max(0, -12 * Math.log2(factor));
  return Math.max(
    saddlePerSemitone * lower,
    saddlePerSemitone * shortened + (sameNotes ? 0 : saddleForOthers),
  );
}

/** The saddle carries twice what is wanted over fret 12, the middle of the string. */
function saddleOf(saddle: Section, { style }: BriefAnswers, wider: number): Section {
  const raised = (text: Json) => changedLength(text, (x) => x + 2 * actionChange[style], 0.1);
  return {
    ...saddle,
    heightBass: raised(saddle["heightBass"]!),
    heightTreble: raised(saddle["heightTreble"]!),
    width: changedLength(saddle["width"]!, (x) => x + wider, 0.1),
  };
}

function reachRule({ reach }: BriefAnswers): BriefRule[] {
  const change = widthChange[reach];
  if (change === 0) return [];
  return [
    {
      what: `The board and the strings are ${Math.abs(change)} mm ${change < 0 ? "narrower" : "wider"} at the nut.`,
      why:
        change < 0
          ? "A small hand closes round a narrower neck (common practice, no source); the length is left, so that the bridge stays over its plate."
          : "Fingers that want room get it between the strings (common practice, no source).",
    },
  ];
}

function actionRule({ style }: BriefAnswers): BriefRule[] {
  const change = actionChange[style];
  if (change === 0) return [];
  return [
    {
      what: `Action is ${change} mm higher over fret 12, the saddle ${2 * change} mm.`,
      why: "A flat pick swings the strings wider than fingers do (common practice, no source); fret 12 is at half the length, so the saddle moves twice as much.",
    },
  ];
}

function saddleRule(wider: number): BriefRule[] {
  if (wider < 0.05) return [];
  return [
    {
      what: `The saddle is ${wider.toFixed(1)} mm wider.`,
      why: "Other strings want another spread of compensation, heavier ones a wider one; a narrow saddle would not hold their crowns (fitted to the verdict on the saddle's slot).",
    },
  ];
}
