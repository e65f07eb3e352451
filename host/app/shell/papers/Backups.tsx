import { useEffect, useState } from "react";
import { type Backup, pageHeader, routes } from "#host/api";
import { Button, Dialog } from "../../kit/index.ts";
import { sayWhen } from "../say.ts";

/** Copies of the whole store, each restored once to see that it can be. */
export function Backups({ onClose }: { readonly onClose: () => void }) {
  const [backups, setBackups] = useState<readonly Backup[] | null>(null);
  const [words, setWords] = useState("Asking the server.");
  const ask = async (init?: RequestInit): Promise<boolean> => {
    try {
      const answer = await fetch(routes.backups, init);
      if (!answer.ok) throw new Error(String(answer.status));
      if (init === undefined) setBackups((await answer.json()) as readonly Backup[]);
      setWords("");
      return true;
    } catch {
      setWords("The server does not answer.");
      return false;
    }
  };
  useEffect(() => {
    void ask();
  }, []);
  const make = async () => {
    setWords("Making a copy, and restoring it to see that it holds.");
    if (await ask({ method: "POST", headers: { [pageHeader]: crypto.randomUUID() } })) await ask();
  };
  return (
    <Dialog
      title="Backups"
      isOpen
      onClose={onClose}
      foot={<Button onPress={() => void make()}>Make one now</Button>}
    >
      <p>The server makes them by itself, and keeps the newest. They lie in its folder on this machine.</p>
      <p role="status">{words}</p>
      <ul className="lines">
        {(backups ?? []).map((b) => (
          <li key={b.name}>
            <span>
              {sayWhen(b.at, new Date())} <span className="soft">{b.name}</span>
            </span>
            <span>
              {(b.bytes / 1e6).toFixed(1)} MB, {b.tested ? "restored and found equal" : "not tried"}
            </span>
          </li>
        ))}
      </ul>
      {backups?.length === 0 ? <p className="soft">None yet.</p> : null}
    </Dialog>
  );
}
