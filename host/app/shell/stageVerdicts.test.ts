import { describe, expect, it } from "vitest";
import type { Verdict } from "#engine/verdicts";
import type { Stage } from "../desk/deskTypes.ts";
import { stageOf } from "./stages.ts";
import { allVerdicts, overallStanding, standingOf, verdictsOf } from "./stageVerdicts.ts";

type Computed = Parameters<typeof standingOf>[1];

const none = { status: "none", value: null, fresh: false, fraction: 0, words: "", fault: null } as const;
const nothing: Computed = {
  sketch: none,
  strings: none,
  slots: none,
  neck: none,
  setup: none,
  load: none,
  voice: none,
};

function verdict(id: string, level: Verdict["level"]): Verdict {
  const said = { title: id, computed: "", limit: "", source: "", why: "", whatWouldChange: "", sureness: "" };
  return { id, level, ...said, figures: {}, canHurt: false };
}

function judged(fresh: boolean, ...verdicts: readonly Verdict[]): Stage<never> {
  return { ...none, status: "ready", value: { verdicts } as never, fresh };
}

describe("how a stage stands", () => {
  it("knows nothing before anything is computed, and says so", () => {
    expect(standingOf(stageOf("voice"), nothing)).toEqual({ level: null, words: "not computed" });
    expect(overallStanding(nothing).level).toBeNull();
  });

  it("bears the gravest of its own verdicts, not of another stage's", () => {
    const desk = {
      ...nothing,
      voice: judged(true, verdict("wolf-risk", "watch"), verdict("bridge-rotation", "stop")),
    };
    expect(standingOf(stageOf("voice"), desk)).toEqual({ level: "watch", words: "" });
    expect(overallStanding(desk)).toEqual({ level: "stop", all: false });
    expect(verdictsOf(stageOf("load"), desk).map(({ verdict: { id } }) => id)).toEqual(["bridge-rotation"]);
  });

  it("is not good before everything of it is known", () => {
    const strings = judged(true, verdict("slack", "good"));
    expect(standingOf(stageOf("strings"), { ...nothing, strings })).toEqual({
      level: null,
      words: "not computed",
    });
    const slots = judged(true);
    expect(standingOf(stageOf("strings"), { ...nothing, strings, slots })).toEqual({
      level: "good",
      words: "",
    });
    expect(overallStanding({ ...nothing, strings, slots }).all).toBe(false);
  });

  it("takes a fresh verdict before a stale one of the same id", () => {
    const desk = {
      ...nothing,
      load: judged(false, verdict("bridge-rotation", "stop")),
      voice: judged(true, verdict("bridge-rotation", "good")),
    };
    expect(allVerdicts(desk)).toEqual([{ verdict: verdict("bridge-rotation", "good"), fresh: true }]);
  });

  it("says how far a computation has come, and that an old figure is old", () => {
    const voice = judged(false, verdict("wolf-risk", "good"));
    expect(standingOf(stageOf("voice"), { ...nothing, voice }).words).toBe("earlier state");
    const working = { ...voice, status: "working", fraction: 0.421 } as const;
    expect(standingOf(stageOf("voice"), { ...nothing, voice: working }).words).toBe("computing 42 %");
  });
});
