import { lazy, Suspense } from "react";
import type { InstrumentCard } from "#host/api";
import { benchDeeds, useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { Notices } from "./Notices.tsx";
import { addressOf, goTo } from "./place.ts";
import { sayWhen } from "./say.ts";
import { useDeed } from "./useDeed.ts";

const WaysToBegin = lazy(() => import("../start/WaysToBegin.tsx").then((m) => ({ default: m.WaysToBegin })));

/** Every instrument of the bench, and the ways to begin another. */
export function InstrumentList() {
  const list = useBench((bench) => bench.list);
  const { fault, does } = useDeed();
  const here = list?.filter(({ away }) => !away) ?? [];
  const away = list?.filter((card) => card.away) ?? [];
  return (
    <main className="list-page">
      <h1>Fairbout</h1>
      <p className="soft">
        The bench of a maker of one-off steel-string guitars: hear the difference between two designs, and
        know where each will hold, before wood is cut.
      </p>
      <Notices />
      {list === null ? <p role="status">The server has not answered yet.</p> : null}
      {here.length === 0 ? null : (
        <section aria-labelledby="instruments">
          <h2 id="instruments">On the bench</h2>
          <ul className="lines">
            {here.map((card) => (
              <Line key={card.id} card={card} />
            ))}
          </ul>
        </section>
      )}
      <Suspense fallback={<p role="status">Fetching the ways to begin.</p>}>
        <WaysToBegin />
      </Suspense>
      {away.length === 0 ? null : (
        <details className="away">
          <summary>{away.length} put away</summary>
          <ul className="lines">
            {away.map((card) => (
              <li key={card.id}>
                <span>
                  {card.name} <span className="soft">revision {card.revision}</span>
                </span>
                <Button onPress={() => void does(benchDeeds.putAway(card.id, false))}>
                  Take it out again
                </Button>
              </li>
            ))}
          </ul>
        </details>
      )}
      {fault === null ? null : (
        <p role="alert" className="accent">
          {fault}
        </p>
      )}
    </main>
  );
}

function Line({ card }: { readonly card: InstrumentCard }) {
  return (
    <li>
      <a
        className="instrument"
        href={addressOf({ instrument: card.id, stage: "outline", view: null })}
        onClick={(e) => {
          if (e.metaKey || e.ctrlKey || e.shiftKey) return;
          e.preventDefault();
          goTo({ instrument: card.id, stage: "outline" });
        }}
      >
        {card.name}
      </a>
      <span className="soft">
        revision {card.revision}, {sayWhen(card.changed, new Date())}
      </span>
    </li>
  );
}
