import { type ReactNode, useState } from "react";
import type { EditAnswer } from "../bench/index.ts";

type Issues = Extract<EditAnswer, { readonly ok: false }>["issues"];

/** As many faults are listed; the rest are counted. */
const shown = 6;

/** Why a document was not taken, with the places at fault, and what to do when it was. */
export function useRefusal(): {
  readonly refusal: ReactNode;
  readonly tell: (answer: Promise<EditAnswer>, then?: () => void) => Promise<void>;
  readonly say: (issues: Issues) => void;
} {
  const [issues, setIssues] = useState<Issues>([]);
  return {
    refusal: issues.length === 0 ? null : <Refusal issues={issues} />,
    say: setIssues,
    async tell(answer, then) {
      setIssues([]);
      const got = await answer;
      if (got.ok) then?.();
      else setIssues(got.issues);
    },
  };
}

function Refusal({ issues }: { readonly issues: Issues }) {
  return (
    <div role="alert" className="refusal">
      <p className="accent">Not taken: {issues.length === 1 ? "one fault" : `${issues.length} faults`}.</p>
      <ul>
        {issues.slice(0, shown).map(({ path, message, allowed, remedy, example }) => (
          <li key={`${path} ${message}`}>
            {path === "" ? null : <code>{path}</code>} {message}
            {allowed === undefined ? null : ` Allowed: ${allowed}.`}
            {example === undefined ? null : ` For example ${example}.`}
            {remedy === undefined ? null : ` ${remedy}`}
          </li>
        ))}
      </ul>
      {issues.length > shown ? <p>And {issues.length - shown} more.</p> : null}
    </div>
  );
}
