import { type KeyboardEvent, useRef } from "react";
import { useShallow } from "zustand/react/shallow";
import { useDesk } from "../desk/useDesk.ts";
import { VerdictMark } from "../kit/index.ts";
import { addressOf, goTo, usePlace } from "./place.ts";
import { type StageEntry, stages } from "./stages.ts";
import { standingOf } from "./stageVerdicts.ts";

/** The stages of the job in order, each with its worst verdict; arrow keys walk along it. */
export function Rail() {
  const list = useRef<HTMLOListElement>(null);
  const walk = (e: KeyboardEvent) => {
    const links = [...(list.current?.querySelectorAll("a") ?? [])];
    const at = links.indexOf(document.activeElement as HTMLAnchorElement);
    const to = {
      ArrowDown: at + 1,
      ArrowRight: at + 1,
      ArrowUp: at - 1,
      ArrowLeft: at - 1,
      Home: 0,
      End: -1,
    }[e.key];
    if (to === undefined || at < 0) return;
    e.preventDefault();
    links.at(to % links.length)?.focus();
  };
  return (
    <nav className="rail" aria-label="Stages of the job">
      <ol ref={list} onKeyDown={walk}>
        {stages.map((stage, i) => (
          <RailStage key={stage.id} stage={stage} number={i + 1} />
        ))}
      </ol>
    </nav>
  );
}

function RailStage({ stage, number }: { readonly stage: StageEntry; readonly number: number }) {
  const place = usePlace();
  const { level, words } = useDesk(useShallow((desk) => standingOf(stage, desk)));
  const here = place.stage === stage.id;
  return (
    <li>
      <a
        href={addressOf({ ...place, stage: stage.id, view: null })}
        aria-current={here ? "page" : undefined}
        onClick={(e) => {
          if (e.metaKey || e.ctrlKey || e.shiftKey) return;
          e.preventDefault();
          goTo({ stage: stage.id });
        }}
      >
        <span className="number" aria-hidden="true">
          {number}
        </span>
        <span className="stage-name">{stage.name}</span>
        <span className="standing">
          {level === null ? null : <VerdictMark level={level} />}
          {words === "" ? null : <span className="soft">{words}</span>}
        </span>
      </a>
    </li>
  );
}
