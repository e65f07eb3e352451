import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import type { BodyStress, GlueLine } from "#engine/shells";
import { climateMargins, stringMargins } from "./loadMargins.ts";
import { leastOfEach } from "./marginReport.ts";

const checked = checkInstrument(
  readFileSync(new URL("../../../examples/low-radial.fairbout.json", import.meta.url), "utf8"),
);
if (!checked.ok) throw new Error("low-radial");
const { build } = checked;

const at = (value: number) => ({ value, x: 0.19, y: 0 });
const pair = (size: number) => ({ tension: at(size), compression: at(-size) });
const even = { along: pair(5e6), across: pair(0.5e6), shear: at(1e6) };
const stress: BodyStress = {
  sheets: [{ part: "top", sheet: "plate", ...even, through: { along: at(1e6), rolling: at(0.2e6) } }],
  ribs: [],
  rods: [],
};
const body = { stress, means: { top: even, back: null } };
const ranged = { low: 2e6, likely: 3e6, high: 4e6, x: 0.19, y: 0 };
const glueLine: GlueLine = {
  area: 5e-3,
  pull: 750,
  lift: -10,
  couple: 10,
  shear: { mean: 0.15e6, edge: ranged },
  peel: { straight: at(0.4e6), perLength: 2700, meanEdge: 2e6, edge: ranged },
};

function opened<T>(o: { ok: true; value: T } | { ok: false; detail: string }): T {
  if (!o.ok) throw new Error(o.detail);
  return o.value;
}

describe("margins of the loaded body", () => {
  const rows = opened(stringMargins(build, body, glueLine));
  const climate = (name: "homeDry" | "homeDamp" | "hotCar") =>
    opened(climateMargins(build, name, build.climate[name], body));
  const across = (list: typeof rows) => list.find((r) => r.kind === "tension-across" && !r.peak)!;

  it("are taken for fifty years in the shop's air under the strings", () => {
    expect(rows[0]!.conditions).toBe("strings at pitch, 50 years, shop air");
    const time = across(rows).factors.find((f) => f.name === "time under load");
    expect(time?.factor).toBeCloseTo(0.589, 3);
  });

  it("hold the bridge's glue to its mean as firm and to its rear edge as a peak, by the weaker wood", () => {
    const bridge = rows.filter((r) => r.part.startsWith("bridge on the top"));
    expect(bridge.map((r) => [r.what, r.peak, r.rules])).toEqual([
      ["peel of the glue line", true, "Spruce, Sitka"],
      ["shear of the glue line", true, "Spruce, Sitka"],
      ["peel of the glue line", false, "Spruce, Sitka"],
      ["shear of the glue line", false, "Spruce, Sitka"],
    ]);
    expect(stringMargins(build, body, null).ok && opened(stringMargins(build, body, null)).length).toBe(
      rows.length - 4,
    );
  });

  it("give dry wood more across the grain than damp, and warm wood less", () => {
    const strength = (list: typeof rows) => across(list).strength ?? Number.NaN;
    expect(strength(climate("homeDry"))).toBeGreaterThan(strength(climate("homeDamp")));
    expect(strength(climate("hotCar"))).toBeLessThan(strength(climate("homeDry")));
    expect(across(climate("homeDamp")).conditions).toContain("four months");
    expect(across(climate("hotCar")).conditions).toContain("a day");
  });

  it("fail where the air lies beyond the table of moisture", () => {
    const wet = { temperature: 293, relativeHumidity: 0.99 };
    expect(climateMargins(build, "fog", wet, body).ok).toBe(false);
  });

  it("come down to the least firm row of each way of breaking", () => {
    const least = leastOfEach(rows);
    expect(new Set(least.map((r) => r.kind)).size).toBe(least.length);
    for (const row of least) {
      expect(row.peak).toBe(false);
      const same = rows.filter((r) => r.kind === row.kind && !r.peak).map((r) => r.margin ?? Number.NaN);
      expect(row.margin).toBe(Math.min(...same));
    }
  });
});
