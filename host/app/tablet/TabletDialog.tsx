import { useEffect, useState } from "react";
import type { LanDeed, LanState } from "#host/api";
import { Button, Dialog } from "../kit/index.ts";
import { askDoor } from "./lanTalk.ts";
import { QrCode } from "./QrCode.tsx";
import "./tablet.css";

/** Milliseconds between looks at who has paired, while the dialog is open. */
const lookEvery = 2000;

/** Opens and shuts the door to the shop's own network, shows the code, and parts with tablets. */
export function TabletDialog({
  isOpen,
  onClose,
}: {
  readonly isOpen: boolean;
  readonly onClose: () => void;
}) {
  const [state, setState] = useState<LanState | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const ask = async (deed: LanDeed | null): Promise<void> => {
    const said = await askDoor(deed);
    if (said.ok) setState(said.state);
    setFault(said.ok ? null : said.message);
  };
  useEffect(() => {
    if (!isOpen) return;
    void ask(null);
    const looking = setInterval(() => void ask(null), lookEvery);
    return () => clearInterval(looking);
  }, [isOpen]);
  return (
    <Dialog title="A tablet at the workbench" isOpen={isOpen} onClose={onClose} wide>
      <p>
        A tablet in the shop's own network can work on the same instruments. The door is shut until you open
        it here, opens for paired tablets alone, and is shut again whenever Fairbout starts anew. Nothing goes
        to the internet.
      </p>
      {fault === null ? null : (
        <p role="alert" className="tablet-fault">
          {fault}
        </p>
      )}
      {state === null ? null : state.open === null ? (
        <ShutDoor state={state} ask={ask} />
      ) : (
        <OpenDoor open={state.open} ask={ask} />
      )}
      {state === null || state.devices.length === 0 ? null : <Devices state={state} ask={ask} />}
    </Dialog>
  );
}

type Ask = (deed: LanDeed) => Promise<void>;

function ShutDoor({ state, ask }: { readonly state: LanState; readonly ask: Ask }) {
  if (state.addresses.length === 0)
    return <p>This machine is in no private network just now: join the shop's network first.</p>;
  return (
    <>
      <p>The door is shut.</p>
      <p className="tablet-deeds">
        {state.addresses.map((address) => (
          <Button key={address} kind="main" onPress={() => void ask({ deed: "open", address })}>
            Open it at {address}
          </Button>
        ))}
      </p>
    </>
  );
}

function OpenDoor({ open, ask }: { readonly open: NonNullable<LanState["open"]>; readonly ask: Ask }) {
  return (
    <>
      <ol className="tablet-steps">
        <li>
          On the tablet, go to <strong className="tablet-address">{open.address}</strong>
          <QrCode text={open.address} label={`QR code of ${open.address}`} />
        </li>
        <li>
          The tablet warns that it does not know the certificate: this machine made it for itself. Look at it
          there and go on only if its SHA-256 fingerprint is
          <code className="tablet-print">{open.fingerprint}</code>
        </li>
        <li>
          Type the code there:
          {open.code === null ? (
            <span> none is open. </span>
          ) : (
            <output className="tablet-code">{`${open.code.digits.slice(0, 4)} ${open.code.digits.slice(4)}`}</output>
          )}
          It is good for five minutes and one tablet.
        </li>
      </ol>
      <p className="tablet-deeds">
        <Button onPress={() => void ask({ deed: "code" })}>Show a new code</Button>
        <Button kind="main" onPress={() => void ask({ deed: "close" })}>
          Shut the door
        </Button>
      </p>
    </>
  );
}

function Devices({ state, ask }: { readonly state: LanState; readonly ask: Ask }) {
  return (
    <section>
      <h3>Paired</h3>
      <ul className="tablet-list">
        {state.devices.map(({ id, name, pairedAt }) => (
          <li key={id}>
            <span>
              {name}, since {pairedAt.slice(0, 10)}
            </span>
            <Button onPress={() => void ask({ deed: "part", device: id })}>Part with {name}</Button>
          </li>
        ))}
      </ul>
    </section>
  );
}
