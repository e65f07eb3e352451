import { useState } from "react";
import { benchDeeds, useBench } from "../../bench/index.ts";
import { Button, Dialog, Field } from "../../kit/index.ts";
import { sayWhen } from "../say.ts";
import { useDeed } from "../useDeed.ts";

/** Names for states worth coming back to. */
export function Keepsakes({ onClose }: { readonly onClose: () => void }) {
  const keepsakes = useBench((bench) => bench.open?.keepsakes ?? []);
  const [name, setName] = useState("");
  const { fault, does } = useDeed();
  return (
    <Dialog title="Keepsakes" isOpen onClose={onClose}>
      <form
        className="beside-button"
        onSubmit={(e) => {
          e.preventDefault();
          if (name.trim() !== "") void does(benchDeeds.keep(name)).then((ok) => ok && setName(""));
        }}
      >
        <Field label="Keep this state as" value={name} onChange={setName} fault={fault} autoFocus />
        <Button type="submit" kind="main" isDisabled={name.trim() === ""}>
          Keep
        </Button>
      </form>
      {keepsakes.length === 0 ? (
        <p className="soft">
          None yet. A keepsake is a name for a state; the history keeps every state anyway.
        </p>
      ) : (
        <ul className="lines">
          {keepsakes.map((k) => (
            <li key={k.id}>
              <span>
                <strong>{k.name}</strong>{" "}
                <span className="soft">
                  revision {k.revision}, {sayWhen(k.at, new Date())}
                </span>
              </span>
              <Button
                onPress={() =>
                  void does(benchDeeds.restore(k.revision, `back to the keepsake ${k.name}`)).then(
                    (ok) => ok && onClose(),
                  )
                }
              >
                Make current
              </Button>
            </li>
          ))}
        </ul>
      )}
    </Dialog>
  );
}
