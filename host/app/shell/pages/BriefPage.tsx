import { useShallow } from "zustand/react/shallow";
import { useBench } from "../../bench/index.ts";
import { useDesk } from "../../desk/useDesk.ts";
import { Sheet } from "../../kit/index.ts";
import { FiguresList } from "../FiguresList.tsx";
import { sayForce, sayLength } from "../say.ts";
import { allVerdicts } from "../stageVerdicts.ts";
import { useUnits } from "../useUnits.ts";

const agreed: readonly (readonly [field: string, term: string])[] = [
  ["client", "For"],
  ["wishes", "Wishes"],
  ["style", "How it will be played"],
  ["reach", "Reach and hand"],
  ["pickup", "Pickup"],
  ["case", "Case"],
  ["price", "Price"],
  ["hours", "Hours planned"],
  ["due", "Promised for"],
];

/** What was agreed, and what it implies so far. */
export function BriefPage() {
  const brief = useBench((bench) => bench.open?.document["brief"]) as
    | { readonly [field: string]: unknown }
    | undefined;
  const papers = Array.isArray(brief?.["papers"]) ? brief["papers"].map(String) : [];
  const rows = agreed.flatMap(([field, term]) => {
    const said = brief?.[field];
    return typeof said === "string" ? [[term, said] as const] : [];
  });
  return (
    <>
      <Sheet heading="Agreed">
        {rows.length === 0 ? (
          <p className="soft">Nothing is written down yet: the fields stand beside, under Values.</p>
        ) : (
          <FiguresList
            rows={[...rows, ...(papers.length === 0 ? [] : [["Papers", papers.join("; ")] as const])]}
          />
        )}
        <Approval approved={brief?.["approved"]} />
      </Sheet>
      <Implied />
    </>
  );
}

function Approval({ approved }: { readonly approved: unknown }) {
  if (typeof approved !== "object" || approved === null)
    return (
      <p>
        <strong className="accent">Not approved yet.</strong> The client's word belongs here before the first
        cut that cannot be taken back.
      </p>
    );
  const { by, date } = approved as { readonly by?: string; readonly date?: string };
  return (
    <p>
      Approved by {by}, {date}.
    </p>
  );
}

/** What the agreed implies, as far as it is computed. */
function Implied() {
  const units = useUnits();
  const strings = useDesk((desk) => desk.strings.value);
  const setup = useDesk((desk) => desk.setup.value);
  const sketch = useDesk((desk) => desk.sketch.value);
  const [stop, watch, good] = useDesk(
    useShallow((desk) => {
      const levels = allVerdicts(desk).map(({ verdict }) => verdict.level);
      return (["stop", "watch", "good"] as const).map((level) => levels.filter((l) => l === level).length);
    }),
  );
  const scales = strings?.strings.map(({ scaleLengthM }) => scaleLengthM) ?? [];
  const rows: (readonly [string, string])[] = [];
  if (strings !== null)
    rows.push(
      [
        "Scale",
        Math.max(...scales) - Math.min(...scales) < 1e-6
          ? sayLength(scales[0]!, units, 1)
          : `${sayLength(scales.at(-1)!, units, 1)} at the lowest string, ${sayLength(scales[0]!, units, 1)} at the highest`,
      ],
      ...strings.tunings.map((t) => [`Pull in ${t.name}`, sayForce(t.totalN, units)] as const),
    );
  if (sketch !== null) rows.push(["Body's length", sayLength(sketch.length, units, 0)]);
  if (setup !== null)
    rows.push([
      "Reach",
      setup.reach.limit === "board"
        ? `the hand reaches the last fret, ${setup.reach.lastFret}`
        : `the hand reaches fret ${setup.reach.fret} of ${setup.reach.lastFret}; the ${setup.reach.limit} stops it`,
    ]);
  rows.push(["Judged so far", `${stop} to stop for, ${watch} to watch, ${good} good`]);
  return (
    <Sheet heading="What it implies">
      <FiguresList rows={rows} />
    </Sheet>
  );
}
