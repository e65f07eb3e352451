import { useId, useState } from "react";
import type { Verdict } from "#engine/verdicts";
import { Button, VerdictMark } from "../kit/index.ts";
import { Levers } from "./Levers.tsx";
import { MeantForm } from "./MeantForm.tsx";
import { capital, prose } from "./say.ts";
import { useUnits } from "./useUnits.ts";

type Opened = "why" | "change" | "meant" | null;

/** One judgement: mark and word, what was computed against which limit; reasoning, levers and the maker's own reason on demand. */
export function VerdictEntry({ verdict, fresh }: { readonly verdict: Verdict; readonly fresh: boolean }) {
  const units = useUnits();
  const id = useId();
  const [opened, setOpened] = useState<Opened>(null);
  const said = (text: string): string => `${prose(capital(text), units)}.`;
  const toggle = (part: Opened) => () => setOpened(opened === part ? null : part);
  return (
    <article className={`verdict ${verdict.level}`} aria-labelledby={id}>
      <header>
        <span>
          <VerdictMark level={verdict.level} />
          {fresh ? null : <span className="earlier">earlier state</span>}
        </span>
        <h4 id={id}>{prose(verdict.title, units)}</h4>
      </header>
      <p>{said(verdict.computed)}</p>
      {verdict.level === "good" ? null : (
        <p className="limit">
          <span className="soft">Limit:</span> {prose(verdict.limit, units)}
        </p>
      )}
      {verdict.meant === undefined ? null : (
        <p>
          <strong className="accent">Meant:</strong> {verdict.meant}
          {verdict.level === "stop" && verdict.canHurt ? (
            <em> Someone can be hurt by this, so it still counts.</em>
          ) : null}
        </p>
      )}
      <div className="asks">
        <Button kind="quiet" onPress={toggle("why")} expanded={opened === "why"}>
          Why
        </Button>
        <Button kind="quiet" onPress={toggle("change")} expanded={opened === "change"}>
          What would change it
        </Button>
        {verdict.level === "good" && verdict.meant === undefined ? null : (
          <Button kind="quiet" onPress={toggle("meant")} expanded={opened === "meant"}>
            It is meant
          </Button>
        )}
      </div>
      {opened === "why" ? (
        <div className="asked">
          <p>{said(verdict.why)}</p>
          <dl>
            <dt>Limit</dt>
            <dd>{said(verdict.limit)}</dd>
            <dt>Where the limit is from</dt>
            <dd>{said(verdict.source)}</dd>
            <dt>How sure</dt>
            <dd>{said(verdict.sureness)}</dd>
          </dl>
        </div>
      ) : null}
      {opened === "change" ? (
        <div className="asked">
          <p>{said(verdict.whatWouldChange)}</p>
          <Levers verdict={verdict.id} />
        </div>
      ) : null}
      {opened === "meant" ? (
        <div className="asked">
          <MeantForm verdict={verdict} onDone={() => setOpened(null)} />
        </div>
      ) : null}
    </article>
  );
}
