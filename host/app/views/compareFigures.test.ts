import { describe, expect, it } from "vitest";
import { boardEvenness } from "#engine/notes";
import { compareFigures } from "./compareFigures.ts";
import { differenceInks } from "./compareNotes.ts";
import { documentDifferences, sameWood } from "./documentDifferences.ts";
import { exampleText, note, squareView } from "./views.fixture.ts";
import type { CompareSide } from "./viewTypes.ts";

/** What these tests change of a document. */
interface Shown {
  readonly top: {
    readonly braces: { height: string }[];
    readonly thickness: { value: string };
    wood: Record<string, unknown>;
  };
}

function side(mainTopHz: number, wolfIndex: number): CompareSide {
  const rows = [note(1, 0, { wolfIndex }), note(1, 1)];
  const view = squareView();
  return {
    name: "one",
    text: "{}",
    voice: {
      view: { ...view, modes: [{ ...view.modes[0]!, frequencyHz: mainTopHz }], noteBoard: rows },
      verdicts: [],
      board: {
        quick: false,
        noteBoard: rows,
        evenness: boardEvenness(rows),
        validToHz: 300,
        decayValidToHz: 300,
      },
    },
  };
}

describe("compareFigures", () => {
  const [a, b] = [side(180, 1.5), side(200, 0.2)];
  const row = (term: string, alike = true) => compareFigures(a, b, alike).find((r) => r.term === term);

  it("gives a difference of the same wood half the range of the figure", () => {
    // catalogue wood: 10 % of the main top's frequency
    expect(row("Main top mode")).toMatchObject({
      a: "180 ± 18 Hz",
      b: "200 ± 20 Hz",
      difference: "+20 ± 10 Hz",
      tells: true,
    });
  });

  it("lets unlike woods have the range of both together, and says what cannot be told", () => {
    expect(row("Main top mode", false)).toMatchObject({ difference: "+20 ± 27 Hz", tells: false });
  });

  it("counts wolf notes", () => {
    expect(row("Wolf notes")).toMatchObject({ a: "1", b: "0", difference: "−1" });
  });

  it("leaves out what neither has and says absent where one lacks it", () => {
    expect(row("Mass")).toBeUndefined();
    expect(compareFigures({ ...a, massKg: 2.04 }, b, true).find((r) => r.term === "Mass")).toMatchObject({
      a: "2.04 kg",
      b: "absent",
      difference: null,
    });
  });
});

describe("differenceInks", () => {
  const inks = differenceInks(
    [note(1, 0, { levelDb: 70 }), note(1, 1, { levelDb: 70 }), note(1, 2), note(1, 3)],
    [note(1, 0, { levelDb: 76 }), note(1, 1, { levelDb: 64 }), note(1, 2, { levelDb: null })],
    "level",
    20,
  );

  it("is full where B has more and an outline where it has less, of one size", () => {
    expect(inks.get("1/0")).toMatchObject({ ink: 7.2, hollow: false });
    expect(inks.get("1/1")).toMatchObject({ ink: 7.2, hollow: true });
    expect(inks.get("1/0")?.label).toContain("louder by 6 dB");
  });

  it("is hatched where one of them foresees nothing or has no such note", () => {
    expect(inks.get("1/2")?.ink).toBeNull();
    expect(inks.get("1/3")?.ink).toBeNull();
  });
});

describe("documentDifferences", () => {
  const text = exampleText("low-radial");
  const changed = (change: (document: Shown) => void): string => {
    const document = JSON.parse(text) as Shown;
    change(document);
    return JSON.stringify(document);
  };

  it("finds nothing between equal documents", () => {
    expect(documentDifferences(text, text)).toEqual([]);
  });

  it("names a brace's field by the brace's own name, with both values as they were typed", () => {
    const other = changed((document) => {
      document.top.braces[2]!.height = "7.6 mm";
    });
    const [found, ...rest] = documentDifferences(text, other)!;
    expect(rest).toEqual([]);
    const { name } = JSON.parse(text).top.braces[2];
    expect(found?.name).toBe(`Top, ${name}: Height`);
    expect(found?.b).toBe("7.6 mm");
  });

  it("calls woods alike while no board is said to be another", () => {
    const thinner = changed((document) => {
      document.top.thickness.value = "2.4 mm";
    });
    const stiffer = changed((document) => {
      document.top.wood = { ...document.top.wood, density: "390 kg/m3" };
    });
    expect(sameWood(documentDifferences(text, thinner)!)).toBe(true);
    expect(sameWood(documentDifferences(text, stiffer)!)).toBe(false);
  });

  it("says that a broken text cannot be read", () => {
    expect(documentDifferences(text, "{")).toBeNull();
  });
});
