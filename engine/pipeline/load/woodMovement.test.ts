import { expect, it } from "vitest";
import { shrinkage } from "#engine/woods";
import { woodMovement } from "./woodMovement.ts";

it("moves as the shrinkage of its species says, radially on the quarter and tangentially on the flat", () => {
  const quarter = woodMovement("Spruce, Sitka", "quarter");
  const flat = woodMovement("Spruce, Sitka", "flat");
  // WH-T43: Sitka spruce shrinks 4.3 % radially and 7.5 % tangentially from green to dry
  expect((quarter?.moisture.across ?? 0) * 0.04).toBeCloseTo(-shrinkage(0.043, 0.08, 0.12), 12);
  expect((flat?.moisture.across ?? 0) * 0.04).toBeCloseTo(-shrinkage(0.075, 0.08, 0.12), 12);
});

it("moves little along the grain, by water and by heat", () => {
  const movement = woodMovement("Walnut, black", "between");
  expect(movement?.moisture.along).toBeLessThan(0.1 * (movement?.moisture.across ?? 0));
  expect(movement?.heat.along).toBeLessThan(0.2 * (movement?.heat.across ?? 0));
});

it("knows nothing of a wood without a species", () => {
  expect(woodMovement(null, "quarter")).toBeNull();
  expect(woodMovement("Unobtainium", "quarter")).toBeNull();
});
