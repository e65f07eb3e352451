import { type Json, useBench } from "../../bench/index.ts";
import { Table } from "../../kit/index.ts";
import { differencesOf } from "../differences.ts";

/** What another text of this instrument says otherwise than the one in hand. */
export function Differences({ text, from }: { readonly text: string; readonly from: string }) {
  const document = useBench((bench) => bench.open?.document);
  const found = differencesOf(JSON.parse(text) as Json, document);
  if (found.length === 0) return <p className="soft">It says the same as the current state.</p>;
  return (
    <Table
      caption={`${found.length} place${found.length === 1 ? "" : "s"} where ${from} differs`}
      columns={["Place", from, "now"]}
      words={[0, 1, 2]}
      rows={found.slice(0, 60).map((d) => ({
        key: d.path,
        cells: [
          d.path,
          d.a ?? <span className="soft">nothing</span>,
          d.b ?? <span className="soft">nothing</span>,
        ],
      }))}
    />
  );
}
