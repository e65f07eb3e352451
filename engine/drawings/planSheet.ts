import { type Polygon, polygonIntersection } from "#engine/geometry";
import { formatQuantity } from "#engine/units";
import { braceNumbers } from "./braceNumbers.ts";
import { type Drawing, filled, group, line, lineMm, type Mark, stroked, words } from "./displayList.ts";
import { extentOf, type Placing, placeOnSheet, strip } from "./placing.ts";
import { sayScale, scaleBar } from "./scaleBar.ts";
import type { BoardView, BraceView, PlanView } from "./voiceView.ts";

const sheetWidth = 186;
/** Room at the neck's end, and at the tail's, where the width is dimensioned. */
const neckMargin = 3;
const tailMargin = 9;

/** Reductions a plan is drawn at; the first that fits is taken. */
const reductions = [4, 5, 6, 8, 10, 12, 15, 20];

/**
 * The guitar in plan, to scale on a sheet 186 mm wide (A4 within its margins): edge, hole, braces seen through the top
 * as hidden lines, bridge and saddle, fingerboard with its slots, strings, main dimensions, a scale bar.
 */
export function planSheet(plan: PlanView, board: BoardView, hand: "right" | "left"): Drawing {
  const extent = extentOf(
    [plan.outline, plan.hole],
    [board.nutLine.bass, board.nutLine.treble, ...board.bassEdge, ...board.trebleEdge],
  );
  const length = extent.maxX - extent.minX;
  const room = sheetWidth - neckMargin - tailMargin;
  const reduction = reductions.find((r) => (length * 1000) / r <= room) ?? Math.ceil((length * 1000) / room);
  const mmPerMetre = 1000 / reduction;
  const drawn = (extent.maxY - extent.minY) * mmPerMetre;
  const top = 13;
  const heightMm = top + drawn + 13;
  const place = placeOnSheet(
    hand,
    extent,
    {
      x: hand === "right" ? neckMargin : tailMargin,
      y: top,
      width: room,
      height: drawn,
    },
    mmPerMetre,
  );
  return {
    widthMm: sheetWidth,
    heightMm,
    title: "Plan",
    description: `The guitar from the front at ${sayScale(mmPerMetre)}, as its player looks down on it: body, hole, ${plan.braces.length} braces seen through, bridge and fingerboard with ${board.slots.length} slots.`,
    marks: [
      group("body", [filled([place.chain(plan.outline)], "spruce", { ink: "ink", widthMm: lineMm.bold })]),
      centreline(place, extent.minX, extent.maxX),
      ...plan.braces.filter((b) => b.plate === "back").map((b) => backBrace(b, plan.outline, place)),
      ...[...plan.patches, ...(plan.bridgePlate === null ? [] : [plan.bridgePlate])].map((patch) =>
        group("patch inside the top", [
          stroked([place.chain(patch)], { ...hidden, dashMm: [1.4, 0.7] }, true),
        ]),
      ),
      ...plan.braces.filter((b) => b.plate === "top").map((b) => topBrace(b, plan.outline, place)),
      hole(plan, place),
      fingerboard(board, place),
      group("bridge", [
        filled([place.chain(plan.bridge)], "rosewood", { ink: "ink", widthMm: lineMm.medium }),
        stroked([Float64Array.of(...place.point(...plan.saddle[0]), ...place.point(...plan.saddle[1]))], {
          ink: "ink",
          widthMm: lineMm.heavy,
        }),
      ]),
      group("strings", [
        stroked(
          board.strings.map((s) => Float64Array.of(...place.point(...s.nut), ...place.point(...s.saddle))),
          { ink: "ink", widthMm: lineMm.hair },
        ),
      ]),
      ...braceNumbers(plan, board, place),
      ...dimensions(plan, board, place, hand),
      ...key(heightMm - 7, mmPerMetre, plan),
    ],
  };
}

/** Scale bar and the meaning of the lines, along the lower edge. */
function key(y: number, mmPerMetre: number, plan: PlanView): readonly Mark[] {
  const bar = 100 * (mmPerMetre / 1000);
  const start = neckMargin + 1 + bar + 16;
  const sample = (x: number) => Float64Array.of(x, y + 0.7, x + 11, y + 0.7);
  const has = (plate: "top" | "back") => plan.braces.some((b) => b.plate === plate);
  return [
    scaleBar(neckMargin + 1, y, 100, mmPerMetre),
    ...(has("top")
      ? [
          group("key", [
            filled([strip(sample(start), 1.6)], "brace", hidden),
            words("brace of the top", start + 13, y + 1.9, 3.4),
          ]),
        ]
      : []),
    ...(has("back")
      ? [
          group("key", [
            stroked([strip(sample(start + 42), 1.6)], behind, true),
            words("brace of the back", start + 55, y + 1.9, 3.4),
          ]),
        ]
      : []),
    ...(plan.patches.length > 0 || plan.bridgePlate !== null
      ? [
          group("key", [
            stroked([strip(sample(start + 87), 1.6)], { ...hidden, dashMm: [1.4, 0.7] }, true),
            words("patch inside the top", start + 100, y + 1.9, 3.4),
          ]),
        ]
      : []),
  ];
}

/** Nearer than this two corners are one, m: a tenth of what a hand can cut. */
const snap = 1e-5;

const hidden = { ink: "ink", widthMm: lineMm.fine, dashMm: [2.2, 0.8] } as const;
const behind = { ink: "soft", widthMm: lineMm.thin, dashMm: [0.9, 0.9] } as const;

function centreline(place: Placing, from: number, to: number): Mark {
  const over = 0.012;
  return group("centreline", [
    stroked([Float64Array.of(...place.point(from - over, 0), ...place.point(to + over, 0))], {
      ink: "soft",
      widthMm: lineMm.hair,
      dashMm: [6, 1, 0.6, 1],
    }),
  ]);
}

/** The bar as far as it lies within the body: a brace may be laid out longer than it is cut. */
function barInside(brace: BraceView, outline: Polygon): readonly Polygon[] {
  return polygonIntersection(strip(brace.path, brace.width), outline, snap);
}

function topBrace(brace: BraceView, outline: Polygon, place: Placing): Mark {
  return group(
    "top brace",
    [filled(barInside(brace, outline).map(place.chain), "brace", hidden)],
    spec(brace),
  );
}

/** Behind the air of the body: the edges alone, in short faint dashes. */
function backBrace(brace: BraceView, outline: Polygon, place: Placing): Mark {
  return group(
    "back brace",
    [stroked(barInside(brace, outline).map(place.chain), behind, true)],
    spec(brace),
  );
}

/** "brace 3, 8.0 mm wide, 14.0 mm high". */
function spec(brace: BraceView): string {
  return `${brace.name}, ${formatQuantity(brace.width, "mm", 1)} wide, ${formatQuantity(brace.height, "mm", 1)} high`;
}

function hole(plan: PlanView, place: Placing): Mark {
  return group("hole", [
    filled([place.chain(plan.hole)], "paper", { ink: "ink", widthMm: lineMm.medium }),
    ...(plan.openEdge.length === 0
      ? []
      : [stroked(plan.openEdge.map(place.chain), { ink: "ink", widthMm: lineMm.fine, dashMm: [1.2, 0.8] })]),
  ]);
}

function fingerboard(board: BoardView, place: Placing): Mark {
  const corners = [...board.bassEdge, board.trebleEdge[1], board.trebleEdge[0]];
  const between = (ends: {
    readonly bass: readonly [number, number];
    readonly treble: readonly [number, number];
  }) => Float64Array.of(...place.point(...ends.bass), ...place.point(...ends.treble));
  return group("fingerboard", [
    filled([Float64Array.from(corners.flatMap(([x, y]) => place.point(x, y)))], "paper", {
      ink: "ink",
      widthMm: lineMm.medium,
    }),
    group("slots", [stroked(board.slots.map(between), { ink: "ink", widthMm: lineMm.thin })]),
    stroked([between(board.nutLine)], { ink: "ink", widthMm: lineMm.heavy }),
  ]);
}

/** Body length and greatest width, the two outer scales. */
function dimensions(
  plan: PlanView,
  board: BoardView,
  place: Placing,
  hand: "right" | "left",
): readonly Mark[] {
  const body = extentOf([plan.outline]);
  const away = hand === "right" ? 1 : -1;
  const [tail, upper] = place.point(body.minX, away * -body.maxY);
  const [head] = place.point(body.maxX, 0);
  const bodyTop = Math.min(upper, place.point(0, body.minY)[1], place.point(0, body.maxY)[1]);
  const yLength = bodyTop - 5;
  const widest = widestStation(plan.outline);
  const [, y1] = place.point(widest, body.minY);
  const [, y2] = place.point(widest, body.maxY);
  const xWidth = tail + away * 5;
  const outer = [board.strings[0], board.strings[board.strings.length - 1]];
  const scales = outer.map((s) => formatQuantity(s.scaleLength, "mm", 1));
  const bassY = Math.max(place.point(0, board.bassEdge[0][1])[1], place.point(0, board.trebleEdge[0][1])[1]);
  const [nutX] = place.point(board.nutLine.bass[0], 0);
  const inward = hand === "right" ? "start" : "end";
  return [
    group("body length", [
      dimension(Math.min(tail, head), yLength, Math.max(tail, head), yLength),
      words(`body ${formatQuantity(body.maxX - body.minX, "mm", 0)}`, (tail + head) / 2, yLength - 1.4, 3.4, {
        anchor: "middle",
      }),
    ]),
    group("body width", [
      dimension(xWidth, Math.min(y1, y2), xWidth, Math.max(y1, y2)),
      words(
        formatQuantity(body.maxY - body.minY, "mm", 0),
        xWidth + (away > 0 ? 3.6 : -1.6),
        (y1 + y2) / 2,
        3.4,
        {
          anchor: "middle",
          turnDeg: -90,
        },
      ),
    ]),
    words(
      scales[0] === scales[1] ? `scale ${scales[0]}` : `scale ${scales[1]} bass, ${scales[0]} treble`,
      nutX,
      bassY + 6,
      3.4,
      { anchor: inward },
    ),
  ];
}

/** A dimension line with a slash at each end. */
function dimension(x1: number, y1: number, x2: number, y2: number): Mark {
  const pen = { ink: "soft", widthMm: lineMm.thin } as const;
  const slash = (x: number, y: number) => line(x - 1, y + 1, x + 1, y - 1);
  return stroked([line(x1, y1, x2, y2), slash(x1, y1), slash(x2, y2)], pen);
}

function widestStation(outline: Float64Array): number {
  let best = 0;
  for (let i = 0; i < outline.length; i += 2)
    if (Math.abs(outline[i + 1]) > Math.abs(outline[best + 1])) best = i;
  return outline[best];
}
