import { describe, expect, it } from "vitest";
import { latestOnly } from "./latestOnly.ts";
import { newestWaits } from "./newestWaits.ts";
import { oneAtATime } from "./oneAtATime.ts";

/** Doors that open one by one: work waits at its own. */
function doors() {
  const open = new Map<string, () => void>();
  return {
    wait: (name: string) => new Promise<void>((settle) => open.set(name, settle)),
    open: async (name: string) => {
      open.get(name)?.();
      for (let i = 0; i < 5; i++) await Promise.resolve();
    },
  };
}

describe("work on the latest only", () => {
  it("does the first at once, then the newest of those that came meanwhile", async () => {
    const { wait, open } = doors();
    const done: string[] = [];
    const work = latestOnly<string>(async (value, superseded) => {
      await wait(value);
      done.push(`${value} ${superseded() ? "superseded" : "wanted"}`);
    });
    for (const value of ["a", "b", "c"]) work.give(value);
    await open("a");
    await open("c");
    expect(done).toEqual(["a superseded", "c wanted"]);
  });

  it("forgets what waits when it is dropped, and works again when something is given", async () => {
    const { wait, open } = doors();
    const begun: string[] = [];
    const work = latestOnly<string>(async (value) => {
      begun.push(value);
      await wait(value);
    });
    work.give("a");
    work.give("b");
    work.drop();
    await open("a");
    work.give("c");
    expect(begun).toEqual(["a", "c"]);
  });
});

describe("questions of which the newest waits", () => {
  it("are answered in turn, those overtaken while waiting with null", async () => {
    const { wait, open } = doors();
    const ask = newestWaits(async (question: string) => {
      await wait(question);
      return question.toUpperCase();
    });
    const answers = ["a", "b", "c"].map(ask);
    await open("a");
    await open("c");
    expect(await Promise.all(answers)).toEqual(["A", null, "C"]);
  });
});

describe("one job at a time", () => {
  it("takes the most urgent slot next, and the newest wish of a slot", async () => {
    const { wait, open } = doors();
    const begun: string[] = [];
    const jobs = oneAtATime(["voice", "load"] as const);
    const job = (name: string) => async () => {
      begun.push(name);
      await wait(name);
    };
    jobs.want("load", job("load 1"));
    jobs.want("load", job("load 2"));
    jobs.want("voice", job("voice 1"));
    jobs.want("voice", job("voice 2"));
    for (const name of ["load 1", "voice 2", "load 2"]) await open(name);
    expect(begun).toEqual(["load 1", "voice 2", "load 2"]);
  });

  it("does not begin what was forgotten", async () => {
    const { wait, open } = doors();
    const begun: string[] = [];
    const jobs = oneAtATime(["voice", "load"] as const);
    jobs.want("voice", async () => {
      begun.push("voice");
      await wait("voice");
    });
    jobs.want("load", async () => {
      begun.push("load");
    });
    jobs.forget("load");
    await open("voice");
    expect(begun).toEqual(["voice"]);
  });
});
