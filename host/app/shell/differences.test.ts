import { describe, expect, it } from "vitest";
import { differencesOf } from "./differences.ts";

describe("what differs between two documents", () => {
  it("is nothing between equal ones", () => {
    expect(
      differencesOf({ top: { braces: [{ height: "8 mm" }] } }, { top: { braces: [{ height: "8 mm" }] } }),
    ).toEqual([]);
  });

  it("is told at the place of the value, also where one says nothing", () => {
    const a = { name: "A", top: { braces: [{ height: "8 mm" }, { height: "7 mm" }] } };
    const b = { name: "A", top: { braces: [{ height: "8.2 mm", width: "6 mm" }] }, hand: "left" };
    expect(differencesOf(a, b)).toEqual([
      { path: "top.braces[0].height", a: "8 mm", b: "8.2 mm" },
      { path: "top.braces[0].width", a: null, b: "6 mm" },
      { path: "top.braces[1]", a: '{"height":"7 mm"}', b: null },
      { path: "hand", a: null, b: "left" },
    ]);
  });
});
