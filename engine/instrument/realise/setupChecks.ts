/** Checks on slots, fall-away, anchor and setup. */
import { formatQuantity } from "#engine/units";
import type { Build } from "../build.ts";
import { type Issue, stop } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";

const mm = (value: number): string => formatQuantity(value, "mm", 2);

/** Everything about how board, anchor and setup are made, in the order of the document. */
export function setupIssues(document: InstrumentDocument, build: Build): Issue[] {
  return [
    ...fallAwayIssues(build),
    ...slotIssues(build),
    ...anchorIssues(document, build),
    ...playerIssues(document, build),
    ...measuredIssues(build),
  ];
}

function fallAwayIssues({ fingerboard, board, neck }: Build): Issue[] {
  const { fallAway } = fingerboard;
  if (fallAway === null) return [];
  const issues: Issue[] = [];
  if (fallAway.fromFret >= board.frets) {
    issues.push(
      stop(
        "fall-away",
        "fingerboard.fallAway.fromFret",
        `The board is to fall away beyond fret ${fallAway.fromFret}, but its last fret is ${board.frets}: nothing would fall.`,
        {
          found: String(fallAway.fromFret),
          allowed: `less than ${board.frets}; the joining fret, ${neck.joinFret}, is customary (common practice, no source)`,
          example: String(Math.min(neck.joinFret, board.frets - 1)),
        },
      ),
    );
  }
  if (fallAway.depth >= neck.boardThickness) {
    issues.push(
      stop(
        "fall-away",
        "fingerboard.fallAway.depth",
        `The board would fall ${mm(fallAway.depth)}, and it is only ${mm(neck.boardThickness)} thick.`,
        { found: mm(fallAway.depth), allowed: `less than ${mm(neck.boardThickness)}`, example: '"0.4 mm"' },
      ),
    );
  }
  return issues;
}

function slotIssues({ fingerboard, neck, board }: Build): Issue[] {
  const { slot } = fingerboard;
  const issues: Issue[] = [];
  if (slot.depth >= neck.boardThickness) {
    issues.push(
      stop(
        "slot-through-board",
        "fingerboard.slot.depth",
        `The fret slots are ${mm(slot.depth)} deep in a board ${mm(neck.boardThickness)} thick.`,
        {
          found: mm(slot.depth),
          allowed: `less than ${mm(neck.boardThickness)}; half of it or less is customary (common practice, no source)`,
          example: JSON.stringify(mm(Math.min(slot.tangDepth + 5e-4, neck.boardThickness / 2))),
        },
      ),
    );
  }
  if (slot.tangDepth > slot.depth) {
    issues.push(
      stop(
        "tang-too-deep",
        "fingerboard.slot.tangDepth",
        `A tang ${mm(slot.tangDepth)} deep does not go down into a slot ${mm(slot.depth)} deep.`,
        {
          found: mm(slot.tangDepth),
          allowed: `at most ${mm(slot.depth)}`,
          remedy: `Cut the slots ${mm(slot.tangDepth + 5e-4)} deep, or take fret wire with a shorter tang.`,
        },
      ),
    );
  }
  if (slot.tangWidth > slot.width) {
    issues.push(
      stop(
        "tang-too-wide",
        "fingerboard.slot.tangWidth",
        `A tang ${mm(slot.tangWidth)} wide without its barbs does not go into a slot ${mm(slot.width)} wide.`,
        {
          found: mm(slot.tangWidth),
          allowed: `at most ${mm(slot.width)}`,
          remedy: `Cut the slots ${mm(slot.tangWidth + 5e-5)} wide, or take fret wire with a thinner tang.`,
        },
      ),
    );
  }
  const outer = (board.nutWidth - board.stringSpreadNut) / 2;
  if (outer > 0 && -slot.overhang >= outer) {
    issues.push(
      stop(
        "fret-too-short",
        "fingerboard.slot.overhang",
        `The frets end ${mm(-slot.overhang)} inside the board's edge, where the outer strings lie ${mm(outer)} from it at the nut.`,
        {
          found: mm(slot.overhang),
          allowed: `more than ${mm(-outer)}`,
          example: '"0 mm"',
        },
      ),
    );
  }
  return issues;
}

function anchorIssues({ bridge: entry }: InstrumentDocument, { bridge, saddle }: Build): Issue[] {
  if (entry.anchorBehind === undefined || entry.anchor === "tail") return [];
  const width = formatQuantity(bridge.anchorBehind, "mm", 1);
  if (bridge.anchorBehind <= saddle.width / 2) {
    return [
      stop(
        "anchor-in-slot",
        "bridge.anchorBehind",
        `${width} behind the saddle line is still within the saddle's slot of ${mm(saddle.width)}.`,
        { found: entry.anchorBehind, allowed: `more than ${mm(saddle.width / 2)}`, example: '"11 mm"' },
      ),
    ];
  }
  const behind = bridge.rearBehind;
  if (bridge.anchorBehind < behind) return [];
  return [
    stop(
      "anchor-off-bridge",
      "bridge.anchorBehind",
      `Behind the saddle line the bridge is ${mm(behind)} wide, but the strings are to leave it ${width} behind.`,
      {
        found: entry.anchorBehind,
        allowed: `less than ${mm(behind)}`,
        example: JSON.stringify(formatQuantity(behind / 2, "mm", 1)),
      },
    ),
  ];
}

function playerIssues({ setup: entry }: InstrumentDocument, { setup, neck, board }: Build): Issue[] {
  const issues: Issue[] = [];
  const { soft, normal, hard } = setup.pluck;
  if (!(soft <= normal && normal <= hard)) {
    issues.push(
      stop(
        "pluck-order",
        "setup.pluck",
        `A soft pluck of ${mm(soft)}, a normal one of ${mm(normal)} and a hard one of ${mm(hard)} do not grow from one to the next.`,
        {
          found: [soft, normal, hard].map(mm).join(", "),
          allowed: "soft no more than normal, normal no more than hard",
          example: '{ "soft": "0.7 mm", "normal": "1.5 mm", "hard": "2.5 mm" }',
          ...(entry?.pluck !== undefined && Object.keys(entry.pluck).length < 3
            ? { remedy: "What is not said counts as usual: say all three." }
            : {}),
        },
      ),
    );
  }
  if (setup.finger.depth >= neck.fretHeight) {
    issues.push(
      stop(
        "finger-depth",
        "setup.finger.depth",
        `Pressed ${mm(setup.finger.depth)} below the crowns, the string would lie in the board: the frets stand ${mm(neck.fretHeight)} over it.`,
        {
          found: mm(setup.finger.depth),
          allowed: `less than ${mm(neck.fretHeight)}`,
          example: JSON.stringify(mm(Math.min(3e-4, neck.fretHeight / 2))),
        },
      ),
    );
  }
  if (setup.weights.length !== board.frets) {
    issues.push(
      stop(
        "weights-count",
        "setup.weights",
        `There are ${setup.weights.length} weights for ${board.frets} frets.`,
        { found: `${setup.weights.length} weights`, allowed: "one for each fret, fret 1 first" },
      ),
    );
  }
  if (!setup.weights.some((weight) => weight > 0)) {
    issues.push(
      stop("weights-zero", "setup.weights", "No fret counts: nothing would decide on the offsets.", {
        allowed: "more than zero for at least one fret",
      }),
    );
  }
  return issues;
}

function measuredIssues({ setup, board }: Build): Issue[] {
  return setup.measured.flatMap(({ documentPath, string, fret }): Issue[] => [
    ...(string <= board.strings
      ? []
      : [
          stop(
            "no-such-string",
            `${documentPath}.string`,
            `Cents were measured on string ${string}, but there are ${board.strings} strings.`,
            { found: String(string), allowed: `1 to ${board.strings}`, example: String(board.strings) },
          ),
        ]),
    ...(fret <= board.frets
      ? []
      : [
          stop(
            "no-such-fret",
            `${documentPath}.fret`,
            `Cents were measured at fret ${fret}, but the board has ${board.frets} frets.`,
            { found: String(fret), allowed: `0 (open) to ${board.frets}`, example: "12" },
          ),
        ]),
  ]);
}
