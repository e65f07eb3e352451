import { describe, expect, it } from "vitest";
import { apart } from "./spacing.ts";

describe("apart", () => {
  it("leaves alone what has room", () => {
    expect(apart([0, 20, 45], 16)).toEqual([0, 20, 45]);
  });

  it("spreads a crowd evenly about its own middle", () => {
    expect(apart([10, 11, 12], 16)).toEqual([-5, 11, 27]);
  });

  it("keeps every two at least the room apart, in order, whatever they wish", () => {
    const wishes = [0, 3, 4, 30, 31, 80, 81, 82, 83, 200];
    const placed = apart(wishes, 9);
    for (let i = 1; i < placed.length; i++) expect(placed[i]! - placed[i - 1]!).toBeGreaterThan(9 - 1e-9);
    expect(placed).toHaveLength(wishes.length);
  });
});
