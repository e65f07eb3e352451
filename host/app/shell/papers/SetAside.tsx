import { useState } from "react";
import { benchDeeds, useBench } from "../../bench/index.ts";
import { Button, Dialog } from "../../kit/index.ts";
import { sayWhen } from "../say.ts";
import { useDeed } from "../useDeed.ts";
import { Differences } from "./Differences.tsx";

/** What was kept because another page was first, and what the server would not take. */
export function SetAside({ onClose }: { readonly onClose: () => void }) {
  const aside = useBench((bench) => bench.open?.aside ?? null) ?? [];
  const id = useBench((bench) => bench.open?.id);
  const stranded = useBench((bench) => bench.stranded);
  const [looked, setLooked] = useState<{ readonly of: string; readonly text: string } | null>(null);
  const { fault, does } = useDeed();
  const here = stranded.filter(({ instrument }) => instrument === id);
  return (
    <Dialog title="Set aside" isOpen onClose={onClose} wide>
      {fault === null ? null : (
        <p role="alert" className="accent">
          {fault}
        </p>
      )}
      {aside.length + here.length === 0 ? (
        <p className="soft">
          Nothing. When two pages change the same instrument, the later one's state is kept here.
        </p>
      ) : null}
      <ul className="lines">
        {aside.map((a) => (
          <li key={a.revision}>
            <span>
              {a.cause}{" "}
              <span className="soft">
                revision {a.revision}, on top of {a.basis}, {sayWhen(a.at, new Date())}
              </span>
              {looked?.of === String(a.revision) ? (
                <Differences text={looked.text} from={`revision ${a.revision}`} />
              ) : null}
            </span>
            <span className="row">
              <Button
                kind="quiet"
                onPress={() =>
                  void benchDeeds
                    .textAt(a.revision)
                    .then((text) => text !== null && setLooked({ of: String(a.revision), text }))
                }
              >
                Look
              </Button>
              <Button
                onPress={() =>
                  void does(benchDeeds.restore(a.revision, `taken up again: ${a.cause}`.slice(0, 300)))
                }
              >
                Make current
              </Button>
            </span>
          </li>
        ))}
        {here.map((edit) => (
          <li key={edit.id}>
            <span>
              {edit.cause} <span className="soft">{sayWhen(edit.at, new Date())}, kept in this browser</span>
              <br />
              <span className="accent">{edit.message}</span>
              {looked?.of === edit.id ? <Differences text={looked.text} from="this edit" /> : null}
            </span>
            <span className="row">
              <Button kind="quiet" onPress={() => setLooked({ of: edit.id, text: edit.text })}>
                Look
              </Button>
              <Button onPress={() => void benchDeeds.letGo(edit.id)}>Let it go</Button>
            </span>
          </li>
        ))}
      </ul>
    </Dialog>
  );
}
