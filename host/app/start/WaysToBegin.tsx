import "./start.css";
import { useState } from "react";
import { benchDeeds, useBench } from "../bench/index.ts";
import { Button } from "../kit/index.ts";
import { BriefForm } from "./BriefForm.tsx";
import { OpenFile } from "./OpenFile.tsx";
import { startTour } from "./tourSteps.ts";
import { useRefusal } from "./useRefusal.tsx";

/** The three ways to begin: from a brief, from an example, from a file. */
export function WaysToBegin() {
  const examples = useBench((bench) => bench.examples);
  const first = examples[0];
  const [asking, setAsking] = useState(false);
  const { refusal, tell } = useRefusal();
  return (
    <section className="ways" aria-label="Begin an instrument">
      <div className="way">
        <h2>Begin from a brief</h2>
        <p>Eight questions; the nearest example is changed by plain rules, each with its reason.</p>
        <Button kind="main" onPress={() => setAsking(true)}>
          Answer the questions
        </Button>
      </div>
      <div className="way">
        <h2>Begin from an example</h2>
        <ul className="lines">
          {examples.map(({ file, name, about }) => (
            <li key={file}>
              <span>
                <strong>{name}</strong> <span className="soft">{about}</span>
              </span>
              <Button onPress={() => void tell(benchDeeds.beginFromExample(file))}>
                Begin<span className="unseen"> with {name}</span>
              </Button>
            </li>
          ))}
        </ul>
        {first === undefined ? null : (
          <Button kind="quiet" onPress={() => void tell(benchDeeds.beginFromExample(first.file), startTour)}>
            Begin with {first.name} and be shown round in six stops
          </Button>
        )}
        {refusal}
      </div>
      <OpenFile />
      {asking ? <BriefForm onClose={() => setAsking(false)} /> : null}
    </section>
  );
}
