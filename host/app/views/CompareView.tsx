import { useMemo, useState } from "react";
import type { VoiceView } from "#engine/drawings";
import { Button, Segments, Sheet, Table } from "../kit/index.ts";
import { CompareBoards } from "./CompareBoards.tsx";
import { compareFigures } from "./compareFigures.ts";
import { documentDifferences, type FieldDifference, sameWood } from "./documentDifferences.ts";
import { PlanOverlay } from "./PlanOverlay.tsx";
import { ResponseView } from "./ResponseView.tsx";
import type { CompareSide, CompareViewProps } from "./viewTypes.ts";
import "./compare.css";

/**
 * Two instruments, or two states of one, side by side: plans over each other, figures and their differences, note boards and
 * what parts them, responses, and every field in which the documents differ. A in ink, B dashed in the accent.
 */
export function CompareView({ a, b, onPlay }: CompareViewProps) {
  const differences = useMemo(() => documentDifferences(a.text, b.text), [a.text, b.text]);
  const alike = differences !== null && sameWood(differences);
  const figures = useMemo(() => compareFigures(a, b, alike), [a, b, alike]);
  return (
    <div className="compare">
      <p className="compare-names">
        <Key second={false} /> A: <strong>{a.name}</strong>
        <Key second /> B: <strong>{b.name}</strong>
      </p>
      {[a, b].map((side) =>
        side.voice === null ? (
          <p key={side.name} role="status">
            {side.name}: {side.words ?? "the voice is not computed yet."}
          </p>
        ) : null,
      )}
      {figures.length === 0 ? null : (
        <Sheet heading="Figures">
          <Table
            caption="Figures of both and their difference"
            columns={["Figure", "A", "B", "B less A", "Can it be told?"]}
            rows={figures.map(({ term, a: of, b: other, difference, tells }) => ({
              key: term,
              cells: [
                term,
                of,
                other,
                difference ?? "",
                tells === null ? "" : tells ? "yes" : <span className="soft">no, within its range</span>,
              ],
            }))}
            words={[0, 4]}
          />
          <p className="note">
            {alike
              ? "Differences between two designs of the same wood are about twice as safe as either figure (engineering judgement): the ranges of the differences are half as wide."
              : "The woods differ, or are differently known: then a difference is no safer than the two figures, and its range says so. Of the same wood it would be about twice as safe as either figure (engineering judgement)."}
          </p>
        </Sheet>
      )}
      <Plans a={a.voice?.view ?? null} b={b.voice?.view ?? null} />
      {a.voice === null || b.voice === null ? null : (
        <>
          <Sheet heading="Note boards">
            <CompareBoards a={a} b={b} {...(onPlay === undefined ? {} : { onPlay })} />
          </Sheet>
          <Sheet heading="Responses">
            <ResponseView view={a.voice.view} other={{ name: b.name, view: b.voice.view }} live={null} />
          </Sheet>
        </>
      )}
      <Sheet heading="What differs in the documents">
        <Differences differences={differences} a={a} b={b} />
      </Sheet>
    </div>
  );
}

function Key({ second }: { readonly second: boolean }) {
  return (
    <svg width="40" height="12" aria-hidden="true">
      <path className={second ? "curve second" : "curve"} d="M0 6H40" />
    </svg>
  );
}

function Plans({ a, b }: { readonly a: VoiceView | null; readonly b: VoiceView | null }) {
  const [plate, setPlate] = useState<"top" | "back">("top");
  if (a === null || b === null) return null;
  return (
    <Sheet
      heading="Plans over each other"
      beside={
        <Segments
          label="Braces of"
          value={plate}
          options={[
            { id: "top", label: "Top" },
            { id: "back", label: "Back" },
          ]}
          onChange={setPlate}
        />
      }
    >
      <PlanOverlay a={a} b={b} plate={plate} />
    </Sheet>
  );
}

/** More than these are told by their number first. */
const atOnce = 40;

function Differences({
  differences,
  a,
  b,
}: {
  readonly differences: readonly FieldDifference[] | null;
  readonly a: CompareSide;
  readonly b: CompareSide;
}) {
  const [whole, setWhole] = useState(false);
  if (differences === null) return <p>One of the two documents cannot be read.</p>;
  if (differences.length === 0) return <p>Nothing: both documents say the same.</p>;
  const shown = whole ? differences : differences.slice(0, atOnce);
  return (
    <>
      <Table
        caption={`${differences.length} ${differences.length === 1 ? "field differs" : "fields differ"}`}
        columns={["Field", `A: ${a.name}`, `B: ${b.name}`]}
        rows={shown.map(({ path, name, a: of, b: other }) => ({
          key: path,
          cells: [name, of ?? <Absent key="a" />, other ?? <Absent key="b" />],
        }))}
        words={[0, 1, 2]}
      />
      {differences.length <= atOnce ? null : (
        <Button onPress={() => setWhole(!whole)}>
          {whole ? `Only the first ${atOnce}` : `All ${differences.length}`}
        </Button>
      )}
    </>
  );
}

function Absent() {
  return <span className="soft">nothing said</span>;
}
