import type { Context, KernelSource } from "#engine/numerics";
import type { Crew } from "#engine/pipeline";
import type { contractJobs } from "./contractJobs.fixture.ts";

type ContractCrew = Crew<typeof contractJobs>;

/** What holds for every crew. Plain functions, so that a page can go through them as well; null: it holds. */
export interface CrewRule {
  readonly title: string;
  readonly fault: (crew: ContractCrew) => Promise<string | null>;
}

/** `apart`: the crew works outside this process or page, so it can be ended. `kernels`: those of the callers' contexts. */
export function crewContract(apart: boolean, kernels?: KernelSource): CrewRule[] {
  const ctx: Context = {
    progress: () => {},
    cancelled: () => false,
    ...(kernels === undefined ? {} : { kernels }),
  };
  const calledOffAfter = (time: number): Context => {
    const at = Date.now() + time;
    return { ...ctx, cancelled: () => Date.now() >= at };
  };
  const same = (got: unknown, wanted: unknown): string | null => {
    const [a, b] = [JSON.stringify(got), JSON.stringify(wanted)];
    return a === b ? null : `got ${a}, wanted ${b}`;
  };
  const rules: CrewRule[] = [
    {
      title: "hands back arrays that own their memory, and leaves the caller's alone",
      fault: async (crew) => {
        const input = Float64Array.of(1, 2, 3);
        const answer = await crew.run("arrays", input, ctx);
        if (!answer.ok) return answer.detail;
        const { part, whole, again } = answer.value;
        return (
          same([...input], [1, 2, 3]) ??
          same(
            [[...part], [...whole], [...again]],
            [
              [2, 4, 6],
              [3, 6, 9],
              [3, 6, 9],
            ],
          ) ??
          same(answer.warnings, [{ code: "heard", detail: "two and three times" }]) ??
          (apart ? same(part.buffer.byteLength, 24) : null)
        );
      },
    },
    {
      title: "gives every one of many callers the own answer",
      fault: async (crew) => {
        const words = Array.from({ length: 12 }, (_, i) => `job ${i}`);
        const answers = await Promise.all(words.map((word) => crew.run("echo", word, ctx)));
        return same(
          answers.map((a) => a.ok && a.value),
          words,
        );
      },
    },
    {
      title: "hands on an honest refusal with its reason",
      fault: async (crew) =>
        same(await crew.run("refuse", "no wood", ctx), { ok: false, reason: "refused", detail: "no wood" }),
    },
    {
      title: "rejects with the message of what was thrown, and works on",
      fault: async (crew) => {
        const said = await crew.run("stumble", "over its own feet", ctx).then(
          () => "nothing",
          (error: Error) => error.message,
        );
        if (!said.includes("over its own feet")) return `it said ${said}`;
        const next = await crew.run("echo", "up again", ctx);
        return same(next.ok && next.value, "up again");
      },
    },
    {
      title: "reports rising progress",
      fault: async (crew) => {
        const heard: number[] = [];
        await crew.run("work", { time: 250 }, { ...ctx, progress: (fraction) => heard.push(fraction) });
        if (heard.length < 2) return `heard ${heard.length} times`;
        return heard.every((x, i) => x >= (heard[i - 1] ?? 0) && x <= 1) ? null : `heard ${heard}`;
      },
    },
    {
      title: "calls off a running job long before its end, and works on",
      fault: async (crew) => {
        const begun = Date.now();
        const answer = await crew.run("work", { time: 60_000 }, calledOffAfter(100));
        if (answer.ok || answer.reason !== "cancelled") return JSON.stringify(answer);
        if (Date.now() - begun > 30_000) return "too late";
        const next = await crew.run("echo", "next", ctx);
        return same(next.ok && next.value, "next");
      },
    },
    {
      title: "does not begin a job that was called off while it waited",
      fault: async (crew) => {
        const answer = await crew.run("work", { time: 60_000 }, calledOffAfter(0));
        return answer.ok ? "it ran" : same(answer.reason, "cancelled");
      },
    },
    {
      title: "keeps the jobs of one lane to one hand, lanes counted round",
      fault: async (crew) => {
        const round = async (first: number) => {
          const counts: number[] = [];
          for (let lane = first; lane < first + crew.hands; lane++) {
            const answer = await crew.run("calls", null, ctx, lane);
            counts.push(answer.ok ? answer.value : Number.NaN);
          }
          return counts;
        };
        const before = await round(0);
        return same(
          await round(crew.hands),
          before.map((count) => count + 1),
        );
      },
    },
    {
      title: "does the jobs of a busy lane in their order, and others meanwhile",
      fault: async (crew) => {
        const done: string[] = [];
        const run = async (word: string, lane: number, time: number) => {
          await crew.run("work", { time }, ctx, lane);
          done.push(word);
        };
        await Promise.all([run("first", 0, 300), run("second", 0, 0), run("other", 1, 0)]);
        return same(done, crew.hands > 1 ? ["other", "first", "second"] : ["first", "second", "other"]);
      },
    },
    {
      title: "hands large arrays on from job to job, each as it was",
      fault: async (crew) => {
        const input = Float64Array.from({ length: 30_000 }, (_, i) => i);
        const first = await crew.run("arrays", input, ctx, 0);
        const second = first.ok ? await crew.run("arrays", first.value.whole, ctx, 1) : first;
        if (!first.ok || !second.ok) return "no answer";
        const at = (array: Float64Array) => [array.length, array[1], array[29_999]];
        return same(
          [input, first.value.part, first.value.whole, second.value.part, second.value.again].map(at),
          [1, 2, 3, 6, 9].map((factor) => [30_000, factor, factor * 29_999]),
        );
      },
    },
    {
      title: "gives its jobs the kernels",
      fault: async (crew) => {
        const answer = await crew.run("kernels", null, ctx);
        return same(answer.ok && answer.value, "wasm");
      },
    },
  ];
  if (!apart) return rules;
  return [
    ...rules,
    {
      title: "never uses a worker again that has thrown",
      fault: async (crew) => {
        for (let i = 0; i < crew.hands; i++) await crew.run("stumble", "down", ctx).catch(() => {});
        const answer = await crew.run("calls", null, ctx);
        return same(answer.ok && answer.value, 1);
      },
    },
  ];
}
