import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkInstrument } from "#engine/instrument";
import { opened } from "#engine/numerics";
import { instrumentGeometry, setupReport, stringSet, stringsReport, totalPull } from "#engine/pipeline";
import {
  type BriefAnswers,
  briefTunings,
  holeChoices,
  plainAnswers,
  reachChoices,
  sizeChoices,
  styleChoices,
  tuningChoices,
} from "./briefAnswers.ts";
import { type ExampleName, fromBrief, nearestExample } from "./fromBrief.ts";

const texts = new Map<ExampleName, string>();
function exampleOf(answers: BriefAnswers): string {
  const name = nearestExample(answers);
  const known = texts.get(name);
  if (known !== undefined) return known;
  const text = readFileSync(new URL(`../../../examples/${name}.fairbout.json`, import.meta.url), "utf8");
  texts.set(name, text);
  return text;
}

function built(answers: BriefAnswers) {
  const design = fromBrief(answers, exampleOf(answers));
  const checked = checkInstrument(design.text);
  if (!checked.ok)
    throw new Error(
      `${JSON.stringify(answers)}: ${checked.issues.map((i) => `${i.path}: ${i.message}`).join("\n")}`,
    );
  return { ...design, build: checked.build, plan: checked.plan, watch: checked.watch };
}

function pull(build: Parameters<typeof stringSet>[0]): number {
  return totalPull(opened(stringSet(build)));
}

const bodies = holeChoices.flatMap(({ id: hole }) => sizeChoices.map(({ id: size }) => ({ hole, size })));

describe.each(bodies)("a brief for a $size body, hole $hole", ({ hole, size }) => {
  it("makes a document that passes the check and can be laid out, whatever else is answered", () => {
    // every tuning with every reach; styles and hands take turns
    tuningChoices.forEach(({ id: tuning }, i) => {
      reachChoices.forEach(({ id: reach }, k) => {
        const style = styleChoices[(i + k) % styleChoices.length]!.id;
        const hand = (i + k) % 2 === 0 ? "left" : "right";
        const { build, plan } = built({ ...plainAnswers, hole, size, tuning, reach, style, hand });
        opened(instrumentGeometry(build, plan));
        expect(build.strings.map(({ note }) => note)).toEqual(briefTunings[tuning].notes);
        expect(build.body.hand).toBe(hand);
      });
    });
  });

  it("keeps the pull of the example within 4 % in every tuning: gauges come in steps", () => {
    const answers = { ...plainAnswers, hole, size };
    const checked = checkInstrument(exampleOf(answers));
    if (!checked.ok) throw new Error("the example is at fault");
    const before = pull(checked.build);
    for (const { id: tuning } of tuningChoices)
      expect(Math.abs(pull(built({ ...answers, tuning }).build) / before - 1)).toBeLessThan(0.04);
  });

  it("lets no verdict on strings or setup say stop", () => {
    for (const { id: tuning } of tuningChoices) {
      const { build, plan } = built({ ...plainAnswers, hole, size, tuning, style: "pick" });
      const geometry = opened(instrumentGeometry(build, plan));
      const strings = opened(stringSet(build));
      const verdicts = [
        ...opened(setupReport(build, geometry, strings)).verdicts,
        ...opened(stringsReport(build, strings)).verdicts,
      ];
      expect(verdicts.filter(({ level }) => level === "stop").map(({ computed }) => computed)).toEqual([]);
      expect(verdicts.length).toBeGreaterThan(5);
    }
  });

  it("claims nothing measured, and keeps no board of another guitar", () => {
    const { text, build } = built({ ...plainAnswers, hole, size });
    expect(text).not.toContain('"measured"');
    expect(text).not.toContain('"board"');
    expect(text).not.toContain('"log"');
    expect(build.uncertain.length).toBeGreaterThan(10);
  });
});

it("gives a reason for everything it did", () => {
  const { rules } = built({ ...plainAnswers, hole: "edge", size: "small", reach: "small", style: "pick" });
  expect(rules.length).toBe(7);
  for (const { what, why } of rules) {
    expect(what).toMatch(/\.$/);
    expect(why.length).toBeGreaterThan(30);
  }
});

it("changes nothing in the guitar where the example is what was asked for", () => {
  const answers = { ...plainAnswers, client: "somebody", wishes: "something" };
  const { build } = built(answers);
  const checked = checkInstrument(exampleOf(answers));
  if (!checked.ok) throw new Error("the example is at fault");
  for (const part of ["strings", "saddle", "rods", "bridge"] as const)
    expect(build[part]).toEqual(checked.build[part]);
  expect(build.body).toEqual(checked.build.body);
  expect(build.name).toBe("Guitar for somebody");
});

it("takes any words of a client", () => {
  for (const client of ["", "  ", "Ürsula Ø. 'Quote\" <b>", "x".repeat(500)])
    built({ ...plainAnswers, client });
});
