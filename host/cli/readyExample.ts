import { randomUUID } from "node:crypto";
import { type BenchState, type NewInstrument, pageHeader, routes } from "#host/api";

/**
 * Where the page is to be opened: on a bench that holds nothing yet, at the example, laid on it as the page would do; else at
 * `address` as it is. `file`: name of an example's file without its ending.
 */
export async function readyExample(address: string, file: string): Promise<string> {
  const at = (path: string): string => new URL(path, address).href;
  const bench = (await (await fetch(at(routes.bench))).json()) as BenchState;
  const example = bench.examples.find((one) => one.file === `${file}.fairbout.json`);
  if (bench.instruments.length > 0 || example === undefined) return address;
  const text = await (await fetch(at(routes.example(example.file)))).text();
  const begun: NewInstrument = { id: randomUUID(), text, cause: `begun from the example ${example.name}` };
  const answer = await fetch(at(routes.instruments), {
    method: "POST",
    headers: { "content-type": "application/json", [pageHeader]: begun.id },
    body: JSON.stringify(begun),
  });
  return answer.ok ? at(`/?instrument=${begun.id}`) : address;
}
