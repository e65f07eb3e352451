import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import type { PageWorker } from "../../jobs/browserWorkers.ts";
import { heavyDuties } from "./heavyDuties.ts";

const example = readFileSync("examples/low-radial.fairbout.json", "utf8");

function edited(edit: (document: Record<string, unknown>) => void): string {
  const document = JSON.parse(example);
  edit(document);
  return JSON.stringify(document);
}

const verdict = { id: "wolf-risk", level: "watch", title: "Wolf notes" };
const keptVoice = {
  picture: {
    view: { title: "", modes: [{}], noteBoard: [{}], stamp: { inputHash: "" }, verdicts: [verdict] },
    verdicts: [verdict],
    board: { noteBoard: [{}] },
  },
  sound: {
    build: { a: 1 },
    geometry: { a: 1 },
    strings: [{}],
    response: { frequency: Float64Array.of(100) },
  },
};

/** Duties over a store that has one voice under every key, and what keys it was asked for. */
function overStore() {
  const keys: string[] = [];
  const store = {
    get: async (key: string) => {
      keys.push(key);
      return keptVoice;
    },
    put: async () => {},
  };
  const hire = (): PageWorker => {
    throw new Error("nothing was to be computed");
  };
  return { keys, duties: heavyDuties(hire, 1, false, store) };
}

it("knows a voice whatever the instrument is called and whatever is marked as meant, and puts both on what it hands out", async () => {
  const { keys, duties } = overStore();
  const reason = "the player asks for it";
  const marked = edited((d) => {
    d["name"] = "another name";
    d["meant"] = [{ verdict: "wolf-risk", reason }];
  });
  const plain = await duties.recallVoice(example);
  const known = await duties.recallVoice(marked);
  expect(keys).toHaveLength(1);
  expect(plain?.verdicts[0]).not.toHaveProperty("meant");
  expect(plain?.view.title).toBe(JSON.parse(example).name);
  expect(known?.view.title).toBe("another name");
  expect(known?.verdicts[0]?.meant).toBe(reason);
  expect(known?.view.verdicts[0]?.meant).toBe(reason);
});

it("asks for another voice where anything else differs", async () => {
  const { keys, duties } = overStore();
  await duties.recallVoice(example);
  await duties.recallVoice(
    edited((d) => {
      d["targets"] = {};
    }),
  );
  expect(new Set(keys).size).toBe(2);
});
