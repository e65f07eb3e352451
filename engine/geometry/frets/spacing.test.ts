import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { parallelBoard } from "./board.fixture.ts";
import { boardLayout } from "./boardLayout.ts";
import { stringShares } from "./spacing.ts";

// .012 to .053 in
const diameters = [0.012, 0.016, 0.024, 0.032, 0.042, 0.053].map((inch) => inch * 0.0254);
const gaps = { nut: "gaps", saddle: "gaps", diameters } as const;

describe("strings spaced by equal gaps", () => {
  it("leave the same free width between the edges of all neighbours, the outer strings where the spread puts them", () => {
    const { strings } = opened(boardLayout({ ...parallelBoard, spacing: gaps }));
    for (const end of ["nut", "saddle"] as const) {
      const free = strings
        .slice(1)
        .map((s, k) => s[end][1] - strings[k][end][1] - (diameters[k] + diameters[k + 1]) / 2);
      for (const width of free) expect(width).toBeCloseTo(free[0], 15);
    }
    expect(strings[5].nut[1]).toBe(0.019);
    expect(strings[0].nut[1]).toBe(-0.019);
    // thin neighbours stand closer, centre to centre, than thick ones
    expect(strings[1].nut[1] - strings[0].nut[1]).toBeLessThan(strings[5].nut[1] - strings[4].nut[1]);
  });

  it("are all divided at the same fractions on a parallel scale", () => {
    const { strings } = opened(boardLayout({ ...parallelBoard, spacing: gaps }));
    for (const s of strings)
      for (const fret of [1, 7, 12, 19])
        expect(s.fretDistance[fret] / s.scaleLength).toBeCloseTo(1 - 2 ** (-fret / 12), 14);
  });

  it("cross the straight slots of a skewed scale within 0.03 mm of their own division, and on the slot to the last digit", () => {
    const skewed = { ...parallelBoard, bassScale: 0.672, trebleScale: 0.652, squareFret: 7, spacing: gaps };
    const { strings, slots } = opened(boardLayout(skewed));
    let worst = 0;
    for (const s of strings)
      for (const slot of slots) {
        const place = s.fretDistance[slot.fret];
        worst = Math.max(worst, Math.abs(place - s.scaleLength * (1 - 2 ** (-slot.fret / 12))));
        const t = place / s.scaleLength;
        const [x, y] = [0, 1].map((i) => s.nut[i] + t * (s.saddle[i] - s.nut[i]));
        const u = (y - slot.treble[1]) / (slot.bass[1] - slot.treble[1]);
        expect(slot.treble[0] + u * (slot.bass[0] - slot.treble[0])).toBeCloseTo(x, 14);
      }
    expect(worst).toBeGreaterThan(1e-6);
    expect(worst).toBeLessThan(3e-5);
  });

  it("are refused where no gap is left or a diameter is missing", () => {
    const told = (...given: Parameters<typeof stringShares>) => {
      const made = stringShares(...given);
      return made.ok ? "ok" : made.reason;
    };
    expect(told(6, 0.003, "gaps", diameters)).toBe("spacing");
    expect(told(6, 0.038, "gaps", diameters.slice(1))).toBe("spacing");
    expect(told(1, 0.038, "gaps", [])).toBe("ok");
  });
});

describe("the square fret", () => {
  it("may be any real number, before the nut and past the bridge, with a table of cents too", () => {
    const cents = Array.from({ length: 20 }, (_, i) => 100 * (i + 1) + (i % 3));
    for (const temperament of [{ kind: "equal" }, { kind: "cents", cents }] as const)
      for (const squareFret of [-7.25, -1, 0, 6.5, 23.7, 1200]) {
        const { strings } = opened(
          boardLayout({ ...parallelBoard, bassScale: 0.66, trebleScale: 0.65, squareFret, temperament }),
        );
        const past =
          squareFret > 20 ? 100 * (squareFret - 20) + (temperament.kind === "cents" ? 2001 : 2000) : 0;
        const own = squareFret === 6.5 && temperament.kind === "cents" ? (602 + 700) / 2 : 100 * squareFret;
        const f = 1 - 2 ** (-(squareFret > 20 ? past : own) / 1200);
        const at = (k: number) => strings[k].nut[0] + f * (strings[k].saddle[0] - strings[k].nut[0]);
        expect(at(5), `${temperament.kind} ${squareFret}`).toBeCloseTo(at(0), 14);
      }
    const bridge = opened(
      boardLayout({ ...parallelBoard, bassScale: 0.66, trebleScale: 0.65, squareFret: 1200 }),
    );
    expect(Math.abs(bridge.saddleLine.angle)).toBeLessThan(1e-14);
  });
});
