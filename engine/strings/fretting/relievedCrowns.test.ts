import { expect, it } from "vitest";
import { relievedCrowns } from "./relievedCrowns.ts";

it("hollows the board between fret 1 and the joint, deepest half way by the relief", () => {
  const place = Float64Array.from([0, 1, 2, 3, 4, 5, 6, 7]);
  const crowns = relievedCrowns(place, 5, 0.2);
  expect(Array.from(crowns)).toEqual([0, 0, -0.15000000000000002, -0.2, -0.15000000000000002, 0, 0, 0]);
});
