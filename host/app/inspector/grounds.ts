import { create } from "zustand";
import type { QuantityKind } from "#engine/units";
import { formatQuantity } from "#engine/units";
import type { Grounds } from "./groundsWorker.ts";

interface GroundsKnown {
  readonly text: string | null;
  /** By path: what is taken where the document says nothing. */
  readonly assumed: { readonly [path: string]: { readonly value: string; readonly because: string } };
  /** By path: values with how they are known, SI. */
  readonly uncertain: { readonly [path: string]: Grounds["uncertain"][number] };
}

/** What the engine takes for the document in hand where it says nothing. */
export const useGrounds = create<GroundsKnown>()(() => ({ text: null, assumed: {}, uncertain: {} }));

let worker: Worker | null = null;
let asked: string | null = null;
let busy = false;

/** Asks for the grounds of a document; the newest asking wins. */
export function followGrounds(text: string): void {
  asked = text;
  if (worker === null) {
    worker = new Worker(new URL("./groundsWorker.ts", import.meta.url), { type: "module", name: "grounds" });
    worker.onmessage = ({ data }: MessageEvent<Grounds>) => {
      busy = false;
      if (data.text !== null)
        useGrounds.setState({
          text: data.text,
          assumed: Object.fromEntries(
            data.assumed.map(({ path, value, because }) => [path, { value, because }]),
          ),
          uncertain: Object.fromEntries(data.uncertain.map((value) => [value.path, value])),
        });
      ask();
    };
  }
  ask();
}

function ask(): void {
  if (busy || asked === null || asked === useGrounds.getState().text) return;
  busy = true;
  worker?.postMessage(asked);
  asked = null;
}

const usualUnit: Partial<Record<QuantityKind, readonly [unit: string, decimals: number]>> = {
  length: ["mm", 2],
  mass: ["g", 0],
  force: ["N", 0],
  density: ["kg/m3", 0],
  stress: ["GPa", 2],
  linearDensity: ["g/m", 2],
  ratio: ["%", 1],
  angle: ["deg", 1],
};

/** A value with a spread as it is shown: "11.00 GPa ± 20 %". */
export function groundWords(value: number, spread: number, kind: QuantityKind | null): string {
  const [unit, decimals] = (kind === null ? undefined : usualUnit[kind]) ?? [null, 0];
  const said = unit === null ? String(Number(value.toPrecision(3))) : formatQuantity(value, unit, decimals);
  return value === 0 ? said : `${said} ± ${Math.round((100 * spread) / Math.abs(value))} %`;
}
