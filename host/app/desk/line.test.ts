import { describe, expect, it, vi } from "vitest";
import { type DeskWorker, type Line, line } from "./line.ts";
import { type DeskScope, serveLine } from "./serveLine.ts";
import type { Watch } from "./wire.ts";

const duties = {
  twice: (value: number) => 2 * value,
  later: async (value: string) => {
    await new Promise((settle) => setTimeout(settle, 1));
    return value;
  },
  stumble: (_: null): never => {
    throw new Error("over its own feet");
  },
  part: (_: null) => new Float64Array([1, 2, 3, 4]).subarray(1, 3),
  untilCalledOff: async (_: null, watch: Watch) => {
    let turns = 0;
    while (!watch.cancelled()) {
      watch.tell(turns++ / 100, "turning");
      await new Promise((settle) => setTimeout(settle, 1));
    }
    return "called off";
  },
};

/** A worker in the same thread, behind the structured clone that parts them in a page. */
function joined(sharing: boolean): { line: Line<typeof duties>; worker: DeskWorker } {
  const worker: DeskWorker = {
    postMessage: (message) => {
      const data = structuredClone(message);
      queueMicrotask(() => scope.onmessage?.({ data }));
    },
    terminate: () => {},
    onmessage: null,
    onerror: null,
  };
  const scope: DeskScope = {
    name: "",
    location: { href: "" },
    crossOriginIsolated: sharing,
    postMessage: (message) => {
      const data = structuredClone(message);
      queueMicrotask(() => worker.onmessage?.({ data } as MessageEvent));
    },
    onmessage: null,
  };
  serveLine(duties, scope);
  return { line: line(worker, sharing), worker };
}

describe.each([true, false])("a line to a worker, memory shared: %s", (sharing) => {
  it("brings every answer to its question, those that wait and those that do not", async () => {
    const { line: to } = joined(sharing);
    const answers = [to.ask("later", "a"), to.ask("twice", 21), to.ask("later", "b")].map((a) => a.answer);
    expect(await Promise.all<unknown>(answers)).toEqual(["a", 42, "b"]);
  });

  it("brings arrays in memory of their own", async () => {
    const array = await joined(sharing).line.ask("part", null).answer;
    expect([[...array], array.buffer.byteLength]).toEqual([[2, 3], 16]);
  });

  it("says what went wrong, and goes on", async () => {
    const told = vi.spyOn(console, "error").mockImplementation(() => {});
    const { line: to } = joined(sharing);
    await expect(to.ask("stumble", null).answer).rejects.toThrow(/^over its own feet$/);
    expect(told).toHaveBeenCalledOnce();
    told.mockRestore();
    expect(await to.ask("twice", 1).answer).toBe(2);
  });

  it("reports progress, and ends what is called off", async () => {
    const { line: to } = joined(sharing);
    const heard: string[] = [];
    const asked = to.ask("untilCalledOff", null, { told: (_, words) => heard.push(words) });
    setTimeout(() => asked.callOff(), 20);
    expect(await asked.answer).toBe("called off");
    expect(heard[0]).toBe("turning");
  });

  it("fails what waits when the worker breaks down or is dismissed", async () => {
    const { line: to, worker } = joined(sharing);
    const waiting = to.ask("untilCalledOff", null).answer;
    expect(to.ended).toBe(false);
    worker.onerror?.({ message: "out of memory" } as ErrorEvent);
    await expect(waiting).rejects.toThrow("out of memory");
    expect(to.ended).toBe(true);
    await expect(to.ask("twice", 1).answer).rejects.toThrow("out of memory");
  });
});
