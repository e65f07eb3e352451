import { describe, expect, it } from "vitest";
import {
  centsBetween,
  nearestNote,
  sayAngle,
  sayCount,
  sayForce,
  sayFrequency,
  sayLength,
  sayList,
  sayPitch,
} from "./say.ts";

describe("numbers in words", () => {
  it("carry the maker's unit, converted from SI", () => {
    // 1 kgf = 9.80665 N by definition.
    expect(sayForce(980.665)).toBe("100 kgf (981 N)");
    expect(sayLength(0.01234)).toBe("12.3 mm");
    expect(sayAngle(Math.PI / 90)).toBe("2.0 degrees");
    expect(sayFrequency(1240)).toBe("1.24 kHz");
    expect(sayFrequency(97.6)).toBe("98 Hz");
  });

  it("name the nearest tempered note and the cents from it (ISO 16: A4 = 440 Hz)", () => {
    expect(nearestNote(440)).toEqual({ note: "A4", cents: 0 });
    expect(nearestNote(261.626)).toEqual({ note: "C4", cents: 0 });
    expect(nearestNote(82.407 * 2 ** (-20 / 1200))).toEqual({ note: "E2", cents: -20 });
    expect(sayPitch(110 * 2 ** (14 / 1200))).toBe("111 Hz (A2 +14 cents)");
    expect(centsBetween(100, 200)).toBe(1200);
  });

  it("count and list as one speaks", () => {
    expect([sayCount(1, "note"), sayCount(0, "note")]).toEqual(["1 note", "0 notes"]);
    expect(sayList(["a"], 3)).toBe("a");
    expect(sayList(["a", "b", "c"], 3)).toBe("a, b and c");
    expect(sayList(["a", "b", "c", "d"], 2)).toBe("a, b and 2 more");
  });
});
