import { useEffect, useState } from "react";
import { benchDeeds, type Json, useBench } from "../bench/index.ts";
import { Button, Dialog, Table } from "../kit/index.ts";
import { differencesOf } from "./differences.ts";
import { sayWhen } from "./say.ts";

/** Two pages changed the same instrument: what differs, and which shall be current. Both are kept either way. */
export function Conflict() {
  const conflict = useBench((bench) => bench.conflict);
  const [mine, setMine] = useState<string | null>(null);
  const revision = conflict?.aside?.revision;
  useEffect(() => {
    setMine(null);
    if (revision !== undefined) void benchDeeds.textAt(revision).then(setMine);
  }, [revision]);
  if (conflict === null) return null;
  const { current, aside } = conflict;
  if (aside === null)
    return (
      <Dialog
        title="Another page was first"
        isOpen
        urgent
        foot={
          <Button kind="main" onPress={() => void benchDeeds.settleConflict("theirs")}>
            Go on from there
          </Button>
        }
      >
        <p>
          {conflict.message} The page shows what is current now, revision {current.revision}; nothing was
          lost.
        </p>
      </Dialog>
    );
  return (
    <Dialog
      title="Another page was first"
      isOpen
      urgent
      wide
      foot={
        <>
          <Button onPress={() => void benchDeeds.settleConflict("theirs")}>Go on from theirs</Button>
          <Button kind="main" onPress={() => void benchDeeds.settleConflict("mine")}>
            Make mine current
          </Button>
        </>
      }
    >
      <p>
        This instrument was changed elsewhere while you worked on it here. Nothing is lost: theirs is revision{" "}
        {current.revision}, yours is kept as revision {aside.revision} (“{aside.cause}”,{" "}
        {sayWhen(aside.at, new Date())}). Say which one to go on from; the other stays in the history.
      </p>
      {mine === null ? (
        <p role="status">Laying both side by side.</p>
      ) : (
        <Both theirs={current.text} mine={mine} />
      )}
    </Dialog>
  );
}

function Both({ theirs, mine }: { readonly theirs: string; readonly mine: string }) {
  const found = differencesOf(JSON.parse(theirs) as Json, JSON.parse(mine) as Json);
  return (
    <Table
      caption={`${found.length} place${found.length === 1 ? "" : "s"} where they differ`}
      columns={["Place", "Theirs", "Mine"]}
      words={[0, 1, 2]}
      rows={found.slice(0, 100).map((d) => ({
        key: d.path,
        cells: [
          d.path,
          d.a ?? <span className="soft">nothing</span>,
          d.b ?? <span className="soft">nothing</span>,
        ],
      }))}
    />
  );
}
