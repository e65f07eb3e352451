import { afterAll, describe, expect, it, onTestFinished } from "vitest";
import { failed, quiet } from "#engine/numerics";
import { alone, type Crew } from "#engine/pipeline";
import { wasmKernels } from "#kernels";
import { browserCrew, type PageWorker } from "./browserWorkers.ts";
import { contractJobs } from "./contractJobs.fixture.ts";
import { crewContract } from "./crew.contract.ts";
import { nodeCrew } from "./nodeWorkers.ts";
import type { FromWorker, ToWorker, WorkerPort } from "./port.ts";
import { serveJobs } from "./serveJobs.ts";
import { workerCrew } from "./workerCrew.ts";

type Jobs = typeof contractJobs;

const threadEntry = new URL("./startContractThread.fixture.mjs", import.meta.url);

/** A page's worker that works while its page waits, as far as messages go: it cannot be interrupted. */
function pageWorker(): PageWorker {
  let ended = false;
  const worker: PageWorker = {
    postMessage: (message) => {
      const sent = structuredClone(message) as ToWorker;
      setTimeout(() => {
        if (!ended) serve(sent);
      });
    },
    terminate: () => {
      ended = true;
    },
    onmessage: null,
    onerror: null,
  };
  const serve = serveJobs(contractJobs, wasmKernels, (message) => {
    const data: FromWorker = structuredClone(message);
    setTimeout(() => {
      if (!ended) worker.onmessage?.({ data });
    });
  });
  return worker;
}

describe("in this process, a crew", () => {
  for (const { title, fault } of crewContract(false, wasmKernels))
    it(title, async () => expect(await fault(alone(contractJobs))).toBeNull());
});

describe("of Node threads, a crew", () => {
  const crew = nodeCrew<Jobs>(2, threadEntry);
  afterAll(() => crew.close());
  for (const { title, fault } of crewContract(true))
    it(title, async () => expect(await fault(crew)).toBeNull());
});

describe("a crew of workers", () => {
  it("says that a worker cannot start, once for every job and not for ever", async () => {
    const crew = nodeCrew<Jobs>(1, new URL("./noSuchEntry.mjs", import.meta.url));
    onTestFinished(() => crew.close());
    await expect(crew.run("echo", "a", quiet)).rejects.toThrow("the worker ended");
    await expect(crew.run("echo", "b", quiet)).rejects.toThrow("the worker ended");
  });

  it("lets nobody wait when it is dismissed", async () => {
    const crew: Crew<Jobs> & { close(): void } = nodeCrew<Jobs>(1, threadEntry);
    const waiting = [1, 2].map(() => crew.run("work", { time: 60_000 }, quiet));
    crew.close();
    for (const job of waiting) await expect(job).rejects.toThrow("dismissed");
    await expect(crew.run("echo", "late", quiet)).rejects.toThrow("dismissed");
  });

  it("ends the worker of a job that is called off where memory cannot be shared, and hires another", async () => {
    const ports: { ended: boolean; posted: ToWorker[]; hear: (message: FromWorker) => void }[] = [];
    const hire = (): WorkerPort => {
      const port = { ended: false, posted: [] as ToWorker[], hear: (_: FromWorker) => {} };
      ports.push(port);
      return {
        post: (message) => port.posted.push(message),
        listen: (hear) => {
          port.hear = (message) => hear(message, "");
        },
        end: () => {
          port.ended = true;
        },
      };
    };
    const crew = workerCrew<Jobs>(hire, 1, false);
    onTestFinished(() => crew.close());
    let off = false;
    const first = crew.run("work", { time: 1 }, { progress: () => {}, cancelled: () => off });
    off = true;
    expect(await first).toMatchObject({ ok: false, reason: "cancelled" });
    expect(ports.map((p) => p.ended)).toEqual([true, false]);
    expect(ports[0]!.posted[0]!.callOff).toBeNull();
    const second = crew.run("echo", "a", quiet);
    // the first worker's late answer is nobody's
    ports[0]!.hear({ job: 2, says: "outcome", outcome: failed("late", "") });
    ports[1]!.hear({ job: 2, says: "outcome", outcome: { ok: true, value: "a", warnings: [] } });
    expect(await second).toMatchObject({ ok: true, value: "a" });
  });

  it("speaks with a page's worker by its messages", async () => {
    const crew = browserCrew<Jobs>(pageWorker, 2, false);
    onTestFinished(() => crew.close());
    const answer = await crew.run("arrays", Float64Array.of(1, 2), quiet);
    expect(answer).toMatchObject({ ok: true, value: { part: Float64Array.of(2, 4) } });
    await expect(crew.run("stumble", "here", quiet)).rejects.toThrow("here");
    expect(await crew.run("refuse", "no", quiet)).toMatchObject({ ok: false, reason: "refused" });
  });
});
