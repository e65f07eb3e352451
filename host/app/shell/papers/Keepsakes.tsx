import { useState } from "react";
import { benchDeeds, useBench } from "../../bench/index.ts";
import { Button, Dialog, Field } from "../../kit/index.ts";
import { sayWhen } from "../say.ts";
import { useDeed } from "../useDeed.ts";

/** Names for states worth coming back to. */
export function Keepsakes({ onClose }: { readonly onClose: () => void }) {
  const keepsakes = useBench((bench) => bench.open?.keepsakes ?? null) ?? [];
  const [name, setName] = useState("");
  const [unnamed, setUnnamed] = useState(false);
  const { fault, does } = useDeed();
  const keep = async () => {
    setUnnamed(name.trim() === "");
    if (name.trim() !== "" && (await does(benchDeeds.keep(name)))) setName("");
  };
  return (
    <Dialog title="Keepsakes" isOpen onClose={onClose}>
      <form
        className="beside-button"
        onSubmit={(e) => {
          e.preventDefault();
          void keep();
        }}
      >
        <Field
          label="Keep this state as"
          value={name}
          onChange={(text) => {
            setName(text);
            setUnnamed(false);
          }}
          fault={unnamed ? "Give it a name first." : fault}
          autoFocus
        />
        <Button type="submit" kind="main">
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
