import { useEffect, useMemo, useState } from "react";
import { routes } from "#host/api";
import { benchDeeds, useBench } from "../bench/index.ts";
import { Button, Dialog, Field, Segments, Select } from "../kit/index.ts";
import {
  type BriefAnswers,
  handChoices,
  holeChoices,
  plainAnswers,
  reachChoices,
  sizeChoices,
  styleChoices,
  tuningChoices,
} from "./briefAnswers.ts";
import { fromBrief, nearestExample } from "./fromBrief.ts";
import { useRefusal } from "./useRefusal.tsx";

/** A few questions, and beside them at once what the answers make, with the reason of every rule. */
export function BriefForm({ onClose }: { readonly onClose: () => void }) {
  const [answers, setAnswers] = useState<BriefAnswers>(plainAnswers);
  const { refusal, tell } = useRefusal();
  const example = useExample(answers);
  const design = useMemo(
    () => (example.text === null ? null : fromBrief(answers, example.text)),
    [answers, example.text],
  );
  const answer = (change: Partial<BriefAnswers>) => setAnswers({ ...answers, ...change });
  return (
    <Dialog
      title="Begin from a brief"
      isOpen
      wide
      onClose={onClose}
      foot={
        <>
          <Button onPress={onClose}>Not now</Button>
          <Button
            kind="main"
            isDisabled={design === null}
            onPress={() => {
              if (design !== null) void tell(benchDeeds.begin(design.text, "begun from a brief"), onClose);
            }}
          >
            Begin this guitar
          </Button>
        </>
      }
    >
      <div className="brief-form">
        <div className="questions">
          <Field
            label="Who is it for"
            value={answers.client}
            autoFocus
            onChange={(client) => answer({ client })}
          />
          <Field
            label="What does the player want, in the player's words"
            value={answers.wishes}
            lines={2}
            onChange={(wishes) => answer({ wishes })}
          />
          <Select
            label="Tuning, and how low"
            value={answers.tuning}
            options={tuningChoices}
            onChange={(tuning) => answer({ tuning })}
          />
          <Question words="Played with">
            <Segments
              label="Played with"
              value={answers.style}
              options={styleChoices}
              onChange={(style) => answer({ style })}
            />
          </Question>
          <Question words="Size of the body">
            <Segments
              label="Size of the body"
              value={answers.size}
              options={sizeChoices}
              onChange={(size) => answer({ size })}
            />
          </Question>
          <Question words="The fretting hand">
            <Segments
              label="The fretting hand"
              value={answers.reach}
              options={reachChoices}
              onChange={(reach) => answer({ reach })}
            />
          </Question>
          <Question words="The sound hole">
            <Segments
              label="The sound hole"
              value={answers.hole}
              options={holeChoices}
              onChange={(hole) => answer({ hole })}
            />
          </Question>
          <Question words="Plays right- or left-handed">
            <Segments
              label="Plays right- or left-handed"
              value={answers.hand}
              options={handChoices}
              onChange={(hand) => answer({ hand })}
            />
          </Question>
        </div>
        <div className="made" aria-live="polite">
          <h3>What this makes</h3>
          {example.fault === null ? null : <p className="accent">{example.fault}</p>}
          <dl>
            {(design?.rules ?? []).map(({ what, why }) => (
              <div key={what}>
                <dt>{what}</dt>
                <dd className="note">{why}</dd>
              </div>
            ))}
          </dl>
          {refusal}
        </div>
      </div>
    </Dialog>
  );
}

function Question({ words, children }: { readonly words: string; readonly children: React.ReactNode }) {
  return (
    <div className="field">
      <span className="label" aria-hidden="true">
        {words}
      </span>
      {children}
    </div>
  );
}

interface ExampleText {
  readonly text: string | null;
  readonly fault: string | null;
}

/** The document of the example nearest to the answers, from the server. */
function useExample({ hole, size }: BriefAnswers): ExampleText {
  const examples = useBench((bench) => bench.examples);
  const name = nearestExample({ hole, size });
  const file = examples.find((example) => example.file.startsWith(name))?.file;
  const [known, setKnown] = useState<Readonly<Record<string, ExampleText>>>({});
  useEffect(() => {
    if (file === undefined || known[file] !== undefined) return;
    let wanted = true;
    const put = (text: ExampleText) => {
      if (wanted) setKnown((before) => ({ ...before, [file]: text }));
    };
    fetch(routes.example(file), { cache: "no-store" })
      .then(async (answer) => {
        if (!answer.ok) throw new Error(String(answer.status));
        put({ text: await answer.text(), fault: null });
      })
      .catch(() => put({ text: null, fault: `The example ${name} cannot be had from the server just now.` }));
    return () => {
      wanted = false;
    };
  }, [file, name, known]);
  if (file === undefined) return { text: null, fault: `The server has no example ${name}.` };
  return known[file] ?? { text: null, fault: null };
}
