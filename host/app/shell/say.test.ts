import { describe, expect, it } from "vitest";
import { prose, sayArea, sayLength, sayVolume } from "./say.ts";

const nb = "\u00a0";

describe("words and figures for the maker's unit", () => {
  it("turns the millimetres of a sentence into inches, a range by its one unit (1 in = 25.4 mm, exact)", () => {
    expect(prose("between 1.9 to 2.5 mm over fret 12", "inch")).toBe(
      `between 0.075 to 0.098${nb}in over fret 12`,
    );
    expect(prose("a waver 254 mm from the tail", "inch")).toBe(`a waver 10.00${nb}in from the tail`);
  });

  it("leaves numbers that are no lengths alone", () => {
    expect(prose("16.6 degrees (string 1) to 23.4 degrees", "inch")).toBe(
      `16.6${nb}degrees (string 1) to 23.4${nb}degrees`,
    );
    expect(prose("frets 3, 5 and 7, 2 notes", "inch")).toBe("frets 3, 5 and 7, 2 notes");
  });

  it("says pulls in pounds: 77 kgf are 170 lbf (1 lb = 0.45359237 kg, exact)", () => {
    expect(prose("77 kgf (755 N)", "inch")).toBe(`170${nb}lbf (755${nb}N)`);
  });

  it("keeps metric text but for hard spaces and true minus signs", () => {
    expect(prose("change -0.3 mm", "metric")).toBe(`change \u22120.3${nb}mm`);
  });

  it("rounds to what a rule shows in either unit", () => {
    expect(sayLength(0.0254, "inch")).toBe("1.000 in");
    expect(sayLength(0.0025, "metric")).toBe("2.50 mm");
    expect(sayArea(0.0254 ** 2 * 100, "inch")).toBe("100.0 sq in");
    expect(sayVolume(0.0254 ** 3 * 900, "inch")).toBe("900 cu in");
  });
});
