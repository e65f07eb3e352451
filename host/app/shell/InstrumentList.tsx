import { benchDeeds, useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { addressOf, goTo } from "./place.ts";
import { sayWhen } from "./say.ts";
import { useDeed } from "./useDeed.ts";

/** Every instrument of the bench, and the examples to begin from. */
export function InstrumentList() {
  const list = useBench((bench) => bench.list);
  const examples = useBench((bench) => bench.examples);
  const { fault, does } = useDeed();
  return (
    <main className="list-page">
      <h1>Fairbout</h1>
      <h2>Instruments</h2>
      {list === null ? <p role="status">The server has not answered yet.</p> : null}
      <ul className="lines">
        {(list ?? [])
          .filter(({ away }) => !away)
          .map((card) => (
            <li key={card.id}>
              <a
                href={addressOf({ instrument: card.id, stage: "outline", view: null })}
                onClick={(e) => {
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
          ))}
      </ul>
      <h2>Begin from an example</h2>
      <ul className="lines">
        {examples.map((example) => (
          <li key={example.file}>
            <span>
              <strong>{example.name}</strong> <span className="soft">{example.about}</span>
            </span>
            <Button onPress={() => void does(benchDeeds.beginFromExample(example.file))}>Begin</Button>
          </li>
        ))}
      </ul>
      {fault === null ? null : (
        <p role="alert" className="accent">
          {fault}
        </p>
      )}
    </main>
  );
}
