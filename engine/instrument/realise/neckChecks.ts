/** Checks on the head and on the rods of the neck. */
import { formatQuantity } from "#engine/units";
import type { Build } from "../build.ts";
import { type Issue, stop } from "../issue.ts";
import type { InstrumentDocument } from "../schema/document.ts";

const mm = (value: number): string => formatQuantity(value, "mm", 2);

export function neckIssues(document: InstrumentDocument, build: Build): Issue[] {
  return [...headIssues(document, build), ...neckRodIssues(document, build)];
}

function headIssues(document: InstrumentDocument, { neck, board }: Build): Issue[] {
  const { head } = neck;
  const entry = document.neck.head;
  const issues: Issue[] = [];
  if (head.inlayDepth !== null && head.inlayDepth >= head.thickness) {
    issues.push(
      stop(
        "inlay-through",
        "neck.head.inlay.depth",
        `The inlay's pocket is ${mm(head.inlayDepth)} deep in a head ${mm(head.thickness)} thick.`,
        {
          found: entry?.inlay?.depth ?? "",
          allowed: `less than ${mm(head.thickness)}; 3 mm or more left under it is customary (common practice, no source)`,
          example: JSON.stringify(mm(Math.min(0.002, head.thickness - 0.003))),
        },
      ),
    );
  }
  if (!head.postsStated) return issues;
  if (head.posts.length !== board.strings) {
    issues.push(
      stop(
        "posts-count",
        "neck.head.posts",
        `There are ${head.posts.length} posts for ${board.strings} strings.`,
        { found: `${head.posts.length} posts`, allowed: `${board.strings} posts, that of string 1 first` },
      ),
    );
  }
  head.posts.forEach(([along], i) => {
    if (along <= head.length) return;
    issues.push(
      stop(
        "post-off-head",
        `neck.head.posts[${i}]`,
        `The post of string ${i + 1} is ${mm(along)} from the nut on a head ${mm(head.length)} long.`,
        { found: mm(along), allowed: `at most ${mm(head.length)}` },
      ),
    );
  });
  return issues;
}

function neckRodIssues(document: InstrumentDocument, { neck }: Build): Issue[] {
  const wood = neck.depthAtFirst - neck.boardThickness;
  return neck.rods.flatMap((rod, i): Issue[] => {
    const path = `neck.rods[${i}]`;
    const issues: Issue[] = [];
    const above = rod.axisDepth - rod.height / 2;
    if (above < -1e-5) {
      issues.push(
        stop(
          "rod-in-board",
          `${path}.axisDepth`,
          `Rod ${i + 1} of the neck, ${mm(rod.height)} high with its middle ${mm(rod.axisDepth)} under the board, would stand ${mm(-above)} into the board.`,
          {
            found: document.neck.rods[i]?.axisDepth ?? "",
            allowed: `${mm(rod.height / 2)} or more`,
            example: JSON.stringify(mm(rod.height / 2)),
          },
        ),
      );
    }
    const below = wood - (rod.axisDepth + rod.height / 2);
    if (below <= 0) {
      const fits = wood - rod.height / 2 - 0.004;
      issues.push(
        stop(
          "rod-through-neck",
          rod.axisDepth === rod.height / 2 ? `${path}.height` : `${path}.axisDepth`,
          `Rod ${i + 1} of the neck reaches ${mm(rod.axisDepth + rod.height / 2)} under the board, but at fret 1 the neck has only ${mm(wood)} of wood there.`,
          {
            allowed: `less than ${mm(wood)}; 4 mm or more left under a rod is customary (common practice, no source)`,
            remedy:
              fits >= rod.height / 2
                ? `Its middle at ${mm(fits)} or less leaves 4 mm.`
                : "A lower rod or a deeper neck.",
          },
        ),
      );
    }
    if (rod.tension !== null && rod.kind !== "adjustable") {
      issues.push(
        stop(
          "rod-not-adjustable",
          `${path}.tension`,
          `A ${rod.kind} bar cannot be tightened: only an adjustable rod has a force of its own.`,
          {
            found: document.neck.rods[i]?.tension ?? "",
            allowed: 'no tension, or "kind": "adjustable"',
            example: '"adjustable"',
          },
        ),
      );
    }
    return issues;
  });
}
