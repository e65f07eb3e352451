import { describe, expect, it } from "vitest";
import { celsiusZero } from "#engine/units";
import { creepRange } from "#engine/woods";
import { actionRise, actionRiseOf } from "./actionRise.ts";
import { buckling } from "./buckling.ts";
import { type ClimateCase, climate } from "./climate.ts";
import { creepRotation } from "./creepRotation.ts";
import { hotCar } from "./hotCar.ts";

const degrees = (d: number) => (d * Math.PI) / 180;
const ahead = [1, 10, 50].map((years) => {
  const range = creepRange(years, 2);
  if (!range.ok) throw new Error(range.detail);
  return { years, range: range.value };
});

describe("buckling", () => {
  it("stops below 2, watches below 4, and is good where none is found (common practice, no source)", () => {
    expect([1.9, 2.1, 3.9, 4.1, null].map((f) => buckling(f).level)).toEqual([
      "stop",
      "watch",
      "watch",
      "good",
      "good",
    ]);
  });
});

describe("rise of action", () => {
  it("is elastic and creep of the first weeks, together in the customary 0.3 to 0.8 mm or watched", () => {
    expect(actionRise(actionRiseOf([4e-4, 5e-4], 1)).level).toBe("good");
    expect(actionRise(actionRiseOf([7e-4, 9e-4], 1)).level).toBe("watch");
  });

  it("counts creep of the first weeks in proportion to the elastic part, by the range of woods", () => {
    const range = creepRange(28 / 365.25, 1);
    const rise = actionRiseOf([4e-4, 5e-4], 1);
    expect(range.ok && rise.creep.likely).toBeCloseTo(5e-4 * ((range.ok ? range.value.likely : 0) - 1), 12);
    expect(rise.creep.low).toBeLessThan(rise.creep.likely);
    expect(rise.creep.high).toBeGreaterThan(2 * rise.creep.likely);
  });
});

describe("creep of the bridge's rotation", () => {
  it("is good at a usual 1.4 degrees, watched where ten years may pass 3 or 4, and never a stop", () => {
    expect(creepRotation(degrees(1.4), ahead).level).toBe("good");
    expect(creepRotation(degrees(1.9), ahead).level).toBe("watch");
    expect(creepRotation(degrees(-2.5), ahead).level).toBe("watch");
  });

  it("tells 1, 10 and 50 years, each as a range", () => {
    const { computed, figures } = creepRotation(degrees(1), ahead);
    for (const words of ["1 year ", "10 years ", "50 years "]) expect(computed).toContain(words);
    expect(figures.likely50).toBeCloseTo(degrees(1.8), 9);
    expect(figures.high50).toBeCloseTo(degrees(3), 9);
  });
});

describe("climate", () => {
  const winter: ClimateCase = {
    name: "winter home",
    relativeHumidity: 0.2,
    temperature: celsiusZero + 21,
    moisture: [0.08, 0.045],
    saddleRise: -1e-3,
    actionChange: -4e-4,
    across: { margin: 2, part: "top" },
  };

  it("watches a margin below 1.5 and an action that moves by more than 0.8 mm, and never stops", () => {
    expect(climate([winter]).level).toBe("good");
    expect(climate([{ ...winter, across: { margin: 1.4, part: "top" } }]).level).toBe("watch");
    const cracked = climate([{ ...winter, across: { margin: 0.8, part: "back" } }]);
    expect([cracked.level, cracked.why]).toEqual(["watch", "back may crack along the grain in winter home"]);
    expect(climate([{ ...winter, actionChange: 9e-4 }]).level).toBe("watch");
  });

  it("tells air that lasts hours, and does not judge it", () => {
    const car = { ...winter, name: "hot car", brief: true, across: { margin: 0.2, part: "top" } };
    expect(climate([winter, car]).level).toBe("good");
    expect(climate([car]).computed).toContain("the end it tends to");
  });

  it("leaves out what was not computed", () => {
    const { figures, computed } = climate([{ ...winter, saddleRise: null, across: null }]);
    expect(Object.keys(figures)).toEqual(["actionChange1"]);
    expect(computed).not.toContain("top at the saddle");
  });
});

describe("hot car", () => {
  it("is watched from the temperature at which the bridge's glue begins to soften (from memory)", () => {
    const at = (glue: string, celsius: number) => hotCar(glue, celsiusZero + celsius).level;
    expect([at("aliphatic", 60), at("aliphatic", 45), at("hide", 61), at("hide", 59)]).toEqual([
      "watch",
      "good",
      "watch",
      "good",
    ]);
    expect(hotCar("paste", celsiusZero + 30).level).toBe("watch");
  });

  it("says that what lets go flies, and puts the glue's data sheet before itself", () => {
    const { why, sureness, canHurt } = hotCar("aliphatic", celsiusZero + 60);
    expect(why).toContain("flies");
    expect(sureness).toContain("data sheet");
    expect(canHurt).toBe(true);
  });
});
