import { describe, expect, it } from "vitest";
import { slack } from "./slack.ts";

const at = (...tensions: number[]) =>
  slack(tensions.map((tension, i) => ({ string: i + 1, note: ["D4", "A3"][i]!, tension, slackLimit: 30 })));

describe("slack strings", () => {
  it("stop below what they are slack at, are looked at within a whole tone of it, and pass above", () => {
    expect(at(120, 29.9).level).toBe("stop");
    expect(at(120, 30.1).level).toBe("watch");
    expect(at(120, 30 * 2 ** (4 / 12) * 0.999).level).toBe("watch");
    expect(at(120, 30 * 2 ** (4 / 12) * 1.001).level).toBe("good");
  });

  it("name the loosest by its share of its own limit, not by its tension", () => {
    const verdict = slack([
      { string: 1, note: "D4", tension: 40, slackLimit: 25 },
      { string: 6, note: "D2", tension: 50, slackLimit: 45 },
    ]);
    expect(verdict.figures).toEqual({ loosestString: 6, loosestRatio: 50 / 45 });
    expect(verdict.why).toContain("string 6 (D2)");
    expect(verdict.why).not.toContain("D4");
  });
});
