import { describe, expect, it } from "vitest";
import { type Drawing, flatMarks, marksOf, type PathMark, type TextMark } from "./displayList.ts";
import { bodyLength, placedBoard } from "./drawnGuitar.fixture.ts";
import { bandEdges, modeSheet } from "./modeSheet.ts";
import { inkWidth, noteBoardSheet } from "./noteBoardSheet.ts";
import { planSheet } from "./planSheet.ts";
import { chartX, responseChart } from "./responseChart.ts";
import { fabricatedView } from "./voiceView.fixture.ts";

const view = fabricatedView();

function paths(drawing: Drawing, name: string): readonly PathMark[] {
  return marksOf(drawing, name).filter((m): m is PathMark => m.kind === "path");
}

function texts(drawing: Drawing): readonly string[] {
  return flatMarks(drawing.marks)
    .filter((m): m is TextMark => m.kind === "text")
    .map((m) => m.text);
}

function bounds(pieces: readonly Float64Array[]): {
  width: number;
  height: number;
  minX: number;
  maxX: number;
} {
  const xs = pieces.flatMap((p) => [...p].filter((_, i) => i % 2 === 0));
  const ys = pieces.flatMap((p) => [...p].filter((_, i) => i % 2 === 1));
  const [minX, maxX] = [Math.min(...xs), Math.max(...xs)];
  return { width: maxX - minX, height: Math.max(...ys) - Math.min(...ys), minX, maxX };
}

/** Scale written in the description, sheet mm per metre. */
function statedScale(drawing: Drawing): number {
  return 1000 / Number(/1 : ([\d.]+)/.exec(drawing.description)![1]);
}

function insideSheet(drawing: Drawing): boolean {
  return flatMarks(drawing.marks).every((m) => {
    if (m.kind === "text")
      return m.xMm >= 0 && m.xMm <= drawing.widthMm && m.yMm >= 0 && m.yMm <= drawing.heightMm;
    return m.pieces.every((p) =>
      p.every((v, i) => v > -0.5 && v < (i % 2 === 0 ? drawing.widthMm : drawing.heightMm) + 0.5),
    );
  });
}

describe("the plan", () => {
  const plan = planSheet(view.plan, view.board, "right");

  it("draws the body as long and as wide as it is, at the scale it states", () => {
    const body = bounds(paths(plan, "body").flatMap((m) => m.pieces));
    expect(body.width).toBeCloseTo(bodyLength * statedScale(plan), 6);
    expect(body.height).toBeCloseTo(0.396 * statedScale(plan), 0);
    expect(texts(plan)).toContain("body 498 mm");
  });

  it("has a scale bar of 100 mm at that scale", () => {
    const bar = paths(plan, "scale bar")[0].pieces;
    expect(bounds(bar).width).toBeCloseTo(0.1 * statedScale(plan), 6);
  });

  it("draws every slot as far from its neighbour as it will be cut, and numbers every brace", () => {
    const slots = paths(plan, "slots")[0].pieces;
    expect(slots).toHaveLength(20);
    const [bass, treble] = [view.board.slots[11].bass, view.board.slots[11].treble];
    expect(Math.hypot(slots[11][0] - slots[11][2], slots[11][1] - slots[11][3])).toBeCloseTo(
      Math.hypot(bass[0] - treble[0], bass[1] - treble[1]) * statedScale(plan),
      6,
    );
    expect(texts(plan)).toEqual(expect.arrayContaining(view.plan.braces.map((_, i) => String(i + 1))));
  });

  it("keeps the numbers of the braces clear of each other, of the hole and of the fingerboard", () => {
    const rings = paths(plan, "brace number").map((m) => bounds(m.pieces));
    expect(rings).toHaveLength(view.plan.braces.length);
    const numbers = marksOf(plan, "brace number").filter((m): m is TextMark => m.kind === "text");
    numbers.forEach((a, i) => {
      for (const b of numbers.slice(i + 1))
        expect(Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm)).toBeGreaterThan(4.2);
    });
  });

  it("draws braces as hidden lines and stays on its sheet", () => {
    for (const mark of [...paths(plan, "top brace"), ...paths(plan, "back brace")])
      expect(mark.stroke!.dashMm).toBeDefined();
    expect(insideSheet(plan)).toBe(true);
  });

  it("turns a left-handed guitar's neck to the right", () => {
    const flip = (p: Float64Array) => p.map((v, i) => (i % 2 === 0 ? v : -v));
    const left = planSheet(
      { ...view.plan, outline: flip(view.plan.outline), hole: flip(view.plan.hole) },
      placedBoard(true),
      "left",
    );
    const nutOf = (d: Drawing) => bounds(paths(d, "fingerboard").flatMap((m) => m.pieces));
    const bodyOf = (d: Drawing) => bounds(paths(d, "body").flatMap((m) => m.pieces));
    expect(nutOf(plan).minX).toBeLessThan(bodyOf(plan).minX);
    expect(nutOf(left).maxX).toBeGreaterThan(bodyOf(left).maxX);
    expect(insideSheet(left)).toBe(true);
  });
});

describe("the note board", () => {
  const board = noteBoardSheet(view);
  const slotPlace = (fret: number) => paths(board, `slot ${fret}`)[0].pieces[0];

  it("draws nut and twelfth slot as far apart as the layout has them, at both edges", () => {
    const [nut, twelfth] = [slotPlace(0), slotPlace(12)];
    const real = [
      view.board.nutLine.bass[0] - view.board.slots[11].bass[0],
      view.board.nutLine.treble[0] - view.board.slots[11].treble[0],
    ];
    const scale = real.map((d, i) => (twelfth[2 * i] - nut[2 * i]) / d);
    expect(scale[0]).toBeCloseTo(scale[1], 9);
    // The scale is written to one decimal.
    expect(Math.abs(1000 / scale[0] - 1000 / statedScale(board))).toBeLessThanOrEqual(0.05);
    expect(real[0] - real[1]).toBeGreaterThan(0.005);
  });

  it("keeps the skew: every slot stands at its real angle", () => {
    for (const slot of view.board.slots) {
      const p = slotPlace(slot.fret);
      const drawn = Math.atan2(p[2] - p[0], p[3] - p[1]);
      expect(Math.abs(Math.tan(drawn) - Math.tan(slot.angle))).toBeLessThan(1e-9);
    }
  });

  it("hatches exactly the notes without a foreseen level, and inks the others by their level", () => {
    const absent = view.noteBoard.filter((row) => row.levelDb === null).length;
    const count = (name: string) => board.marks.filter((m) => m.kind === "group" && m.name === name).length;
    expect(absent).toBeGreaterThan(10);
    expect(count("not foreseen")).toBe(absent);
    expect(count("foreseen")).toBe(view.noteBoard.length - absent);
    expect(inkWidth(6) / inkWidth(0)).toBeCloseTo(1.75, 12);
    expect(inkWidth(200)).toBeLessThan(2.5);
    expect(inkWidth(-200)).toBeGreaterThan(0);
  });

  it("marks wolf and dead notes by shapes of their own, as many as there are", () => {
    const count = (name: string) => board.marks.filter((m) => m.kind === "group" && m.name === name).length;
    expect(count("wolf")).toBe(view.noteBoard.filter((r) => r.wolfIndex !== null && r.wolfIndex >= 1).length);
    expect(count("dead")).toBe(view.noteBoard.filter((r) => r.deadIndex !== null && r.deadIndex >= 2).length);
    const shape = (name: string) =>
      paths(board, name)
        .slice(0, 2)
        .map((m) => m.pieces.map((p) => p.length));
    expect(count("callout")).toBe(Math.min(8, count("wolf") + count("dead")));
    expect(shape("wolf")).not.toEqual(shape("dead"));
    expect(insideSheet(board)).toBe(true);
  });
});

describe("the response", () => {
  const chart = responseChart(view);
  const x = (f: number) => chartX(f, 50, 1000);

  it("begins its hatching where the model ends, and draws no curve beyond", () => {
    const level = bounds(paths(chart, "pressure not foreseen").flatMap((m) => m.pieces));
    expect(level.minX).toBeCloseTo(x(view.validToHz), 6);
    const motion = bounds(paths(chart, "mobility not foreseen").flatMap((m) => m.pieces));
    expect(motion.minX).toBeCloseTo(x(view.modesToHz), 6);
    expect(bounds(paths(chart, "pressure")[0].pieces).maxX).toBeLessThanOrEqual(x(view.validToHz));
    expect(bounds(paths(chart, "mobility")[0].pieces).maxX).toBeLessThanOrEqual(x(view.modesToHz));
  });

  it("has an axis of equal steps for equal intervals, with the notes at their frequencies", () => {
    expect(x(100) - x(50)).toBeCloseTo(x(400) - x(200), 9);
    const c4 = marksOf(chart, "notes").find((m): m is TextMark => m.kind === "text" && m.text === "C4")!;
    expect(c4.xMm).toBeCloseTo(x(261.626), 2);
  });

  it("peaks at the main modes, and names them with their range of one sigma", () => {
    const curve = paths(chart, "mobility")[0].pieces[0];
    let best = 0;
    for (let i = 0; i < curve.length; i += 2) if (curve[i + 1] < curve[best + 1]) best = i;
    expect(curve[best]).toBeCloseTo(x(171.2), 0);
    const range = bounds(paths(chart, "range of the main top").flatMap((m) => m.pieces));
    expect([range.minX, range.maxX]).toEqual(
      [x(171.2 * 0.9), x(171.2 * 1.1)].map((v) => expect.closeTo(v, 6)),
    );
    expect(texts(chart)).toContain("main air 88 Hz");
    expect(insideSheet(chart)).toBe(true);
  });
});

describe("a mode's shape", () => {
  const twoWays = modeSheet(view.modes[4], view)!;

  it("shows both ways of motion in tints of their own, each with its sign, and the nodal line in ink", () => {
    for (const name of ["band out1", "band in1", "outward", "inward", "nodal line"])
      expect(marksOf(twoWays, name).length, name).toBeGreaterThan(0);
    expect(paths(twoWays, "outward")[0].pieces).toHaveLength(2);
    expect(paths(twoWays, "inward")[0].pieces).toHaveLength(1);
    expect(paths(twoWays, "nodal line")[0].stroke!.ink).toBe("ink");
  });

  it("keeps top and back to one scale: a back that moves a fifth as much has only the faintest tint", () => {
    const names = (group: string) => {
      const found = twoWays.marks.find((m) => m.kind === "group" && m.name === group);
      return found?.kind === "group" ? found.marks.flatMap((m) => (m.kind === "group" ? [m.name] : [])) : [];
    };
    expect(bandEdges[1]).toBeGreaterThan(0.2);
    expect(names("top")).toContain("band out4");
    expect(names("back").filter((n) => n.startsWith("band"))).toEqual(["band out1", "band in1"]);
  });

  it("draws nothing for a mode without a shape", () => {
    expect(modeSheet({ ...view.modes[0], topMotion: null }, view)).toBeNull();
    const still = new Float64Array(view.modes[0].topMotion!.length);
    expect(modeSheet({ ...view.modes[0], topMotion: still, backMotion: still }, view)).toBeNull();
  });

  it("draws the same picture for the mode with its sign turned", () => {
    const { topMotion, backMotion } = view.modes[4];
    const turned = {
      ...view.modes[4],
      topMotion: topMotion!.map((w) => -w),
      backMotion: backMotion!.map((w) => -w),
    };
    expect(JSON.stringify(modeSheet(turned, view))).toBe(JSON.stringify(twoWays));
  });
});
