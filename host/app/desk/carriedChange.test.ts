import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { opened } from "#engine/numerics";
import { carriedChange, followable } from "./carriedChange.ts";
import { changeBetween } from "./changeBetween.ts";
import { textOpener } from "./openText.ts";

describe("a change carried over to the model's own instrument", () => {
  const base = [{ parameter: "top.thickness", factor: 0.9 }];
  it("multiplies factors on the same value and keeps the others", () => {
    const change = [
      { parameter: "top.thickness", factor: 0.5 },
      { parameter: "back.thickness", factor: 1.1 },
    ];
    expect(carriedChange(base, change)).toEqual([
      { parameter: "top.thickness", factor: 0.45 },
      { parameter: "back.thickness", factor: 1.1 },
    ]);
  });
  it("lays a brace where the hand has it, wherever it lay before", () => {
    const lies = { brace: "top.braces[1]", from: [0, 0], to: [1, 0] } as const;
    const moved = { ...lies, to: [1, 1] } as const;
    expect(carriedChange([lies], [moved])).toEqual([moved]);
  });
  it("is followed where every place can be moved, and a brace is laid elsewhere alone", () => {
    const lies = { brace: "top.braces[1]", from: [0, 0], to: [1, 0] } as const;
    const hole = { parameter: "soundHole.size", factor: 1.1 };
    const movable = ["top.thickness", "top.braces[1]", "soundHole.size"];
    expect(followable(movable, base)).toBe(true);
    expect(followable(movable, [lies, hole])).toBe(true);
    expect(followable(movable, [lies, ...base])).toBe(false);
    expect(followable(movable, [{ parameter: "back.thickness", factor: 1 }])).toBe(false);
  });
});

describe("the change between two documents", () => {
  const text = readFileSync(new URL("../../../examples/low-radial.fairbout.json", import.meta.url), "utf8");
  const { open } = textOpener();
  const edited = (
    edit: (
      document: { top: { thickness: unknown; braces: Record<string, unknown>[] }; name: string } & Record<
        string,
        unknown
      >,
    ) => void,
  ): string => {
    const document = JSON.parse(text);
    edit(document);
    return JSON.stringify(document);
  };
  const between = (after: string) => changeBetween(opened(open(text)), opened(open(after)));

  it("is empty where nothing differs, or the name and what is marked as meant alone", () => {
    expect(between(text)).toEqual({ change: [], doubts: [] });
    const after = edited((d) => {
      d.name = "another";
      d["meant"] = [{ verdict: "wolf-risk", reason: "the player asks for it" }];
    });
    expect(between(after)).toEqual({ change: [], doubts: [] });
  });

  it("is the factor on the width of a brace", () => {
    const after = edited((d) => {
      d.top.braces[2]!["width"] = "7.7 mm";
    });
    const change = between(after)!.change;
    expect(change).toHaveLength(1);
    expect(change).toMatchObject([{ parameter: "top.braces[2].width" }]);
    expect((change as readonly { readonly factor: number }[])[0]!.factor).toBeCloseTo(1.1, 9);
  });

  it("is the move of a brace laid elsewhere", () => {
    const { change } = between(
      edited((d) => {
        d.top.braces[2]!["from"] = ["252 mm", "40 mm"];
      }),
    )!;
    expect(change).toMatchObject([{ brace: "top.braces[2]" }]);
    const [x, y] = (change as unknown as { from: number[] }[])[0]!.from;
    expect([x, y]).toEqual([expect.closeTo(0.252, 9), expect.closeTo(0.04, 9)]);
  });

  it("is none where something differs that no hand moves live", () => {
    const after = edited((d) => {
      d["neck"] = { ...(d["neck"] as object), pitch: "0.7 deg" };
    });
    expect(between(after)).toBeNull();
  });

  it("goes by the height of a brace whose tips stay, and says so", () => {
    const found = between(
      edited((d) => {
        d.top.braces[2]!["height"] = "6.97 mm";
      }),
    );
    expect(found?.change).toEqual([{ parameter: "top.braces[2].height", factor: expect.closeTo(0.85, 9) }]);
    expect(found?.doubts).toEqual([expect.stringContaining("without its ends")]);
  });
});
