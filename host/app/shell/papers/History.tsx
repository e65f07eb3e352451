import { useCallback, useEffect, useState } from "react";
import type { RevisionLine } from "#host/api";
import { benchDeeds, useBench } from "../../bench/index.ts";
import { Button, Dialog } from "../../kit/index.ts";
import { saveFile } from "../saveFile.ts";
import { sayWhen } from "../say.ts";
import { useDeed } from "../useDeed.ts";
import { Differences } from "./Differences.tsx";

const kinds: Readonly<Record<RevisionLine["kind"], string>> = {
  made: "made",
  edit: "changed",
  undo: "undone",
  redo: "redone",
  restore: "brought back",
  aside: "set aside",
};
const atOnce = 200;

/** Every revision, newest first; any can be looked at and made current, and nothing is taken away by it. */
export function History({ onClose }: { readonly onClose: () => void }) {
  const revision = useBench((bench) => bench.open?.revision ?? 0);
  const name = useBench((bench) => bench.open?.name ?? "");
  const [lines, setLines] = useState<readonly RevisionLine[]>([]);
  const [state, setState] = useState<"asking" | "more" | "all" | "lost">("asking");
  const [looked, setLooked] = useState<{ readonly revision: number; readonly text: string } | null>(null);
  const { fault, does } = useDeed();
  const ask = useCallback(async (before?: number) => {
    const got = await benchDeeds.history(before);
    if (got === null) {
      setState("lost");
      return;
    }
    setLines((had) => (before === undefined ? got : [...had, ...got]));
    setState(got.length < atOnce ? "all" : "more");
  }, []);
  useEffect(() => {
    // the newest first whenever there is a newer one
    if (revision > 0) void ask();
  }, [ask, revision]);
  const look = async (line: RevisionLine) => {
    const text = await benchDeeds.textAt(line.revision);
    if (text === null) setState("lost");
    else setLooked({ revision: line.revision, text });
  };
  return (
    <Dialog title="History" isOpen onClose={onClose} wide>
      {state === "lost" ? <p role="alert">The server does not answer; the history is with it.</p> : null}
      {fault === null ? null : (
        <p role="alert" className="accent">
          {fault}
        </p>
      )}
      <ol className="lines history">
        {lines.map((line) => (
          <li key={line.revision}>
            <span className="figures">{line.revision}</span>
            <span>
              {line.cause}
              <span className="soft">
                {" "}
                {kinds[line.kind]}, {sayWhen(line.at, new Date())}
              </span>
              {looked?.revision === line.revision ? (
                <Differences text={looked.text} from={`revision ${line.revision}`} />
              ) : null}
            </span>
            {line.revision === revision ? (
              <span className="soft">current</span>
            ) : (
              <span className="row">
                <Button kind="quiet" onPress={() => void look(line)}>
                  Look
                </Button>
                {looked?.revision === line.revision ? (
                  <Button
                    kind="quiet"
                    onPress={() =>
                      saveFile(
                        new Blob([looked.text], { type: "application/json" }),
                        `${name} ${line.revision}.fairbout.json`,
                      )
                    }
                  >
                    Save as file
                  </Button>
                ) : null}
                <Button
                  onPress={() =>
                    void does(benchDeeds.restore(line.revision, `back to revision ${line.revision}`)).then(
                      (ok) => ok && onClose(),
                    )
                  }
                >
                  Make current
                </Button>
              </span>
            )}
          </li>
        ))}
      </ol>
      {state === "more" ? <Button onPress={() => void ask(lines.at(-1)?.revision)}>Earlier</Button> : null}
      {state === "asking" ? <p role="status">Asking the server.</p> : null}
    </Dialog>
  );
}
