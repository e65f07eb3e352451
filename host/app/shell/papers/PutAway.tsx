import { benchDeeds, useBench } from "../../bench/index.ts";
import { Button, Dialog } from "../../kit/index.ts";
import { goTo } from "../place.ts";
import { useDeed } from "../useDeed.ts";

/** Off the list; it stays whole in the store, and can be taken out again. */
export function PutAway({ onClose }: { readonly onClose: () => void }) {
  const id = useBench((bench) => bench.open?.id ?? "");
  const name = useBench((bench) => bench.open?.name ?? "");
  const { fault, does } = useDeed();
  return (
    <Dialog
      title={`Put ${name} away?`}
      isOpen
      onClose={onClose}
      foot={
        <>
          <Button onPress={onClose}>Leave it on the bench</Button>
          <Button
            kind="main"
            onPress={() =>
              void does(benchDeeds.putAway(id, true)).then((ok) => {
                if (ok) goTo({ instrument: null });
              })
            }
          >
            Put it away
          </Button>
        </>
      }
    >
      <p>
        It leaves the list and keeps everything: history, keepsakes, attachments. You find it under what is
        put away.
      </p>
      {fault === null ? null : (
        <p role="alert" className="accent">
          {fault}
        </p>
      )}
    </Dialog>
  );
}
