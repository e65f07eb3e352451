import "../kit/tokens.css";
import "../kit/inks.css";
import "../kit/kit.css";
import "../kit/fields.css";
import "../kit/overlays.css";
import "../kit/paper.css";
import "./frame.css";
import "./topLine.css";
import "./rail.css";
import "./figures.css";
import "./verdicts.css";
import "./papers.css";
import { useEffect, useRef, useState } from "react";
import { benchDeeds, startBench, useBench } from "../bench/index.ts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { Bench } from "./Bench.tsx";
import { InstrumentList } from "./InstrumentList.tsx";
import { goTo, placeOf, usePlace } from "./place.ts";

let started: Promise<void> | null = null;

// react-aria adds a style element of its own unless one of this id is there; the page's policy forbids it, kit.css has the rule
const held = document.createElement("meta");
held.id = "react-aria-pressable-style";
document.head.append(held);

/** The whole page: the bench with its instrument, or the list of instruments. */
export function Page() {
  const [ready, setReady] = useState(false);
  useEffect(() => {
    started ??= startBench((text) => deskDeeds.check(text));
    void started.then(() => setReady(true));
  }, []);
  useLight();
  useFollowedPlace(ready);
  const open = useBench((bench) => bench.open?.id ?? null);
  const wanted = usePlace().instrument;
  if (!ready || (wanted !== null && open === null)) return <Waiting wanted={wanted} />;
  return open === null ? <InstrumentList /> : <Bench />;
}

/** Before the first answer; and an address whose instrument cannot be had. */
function Waiting({ wanted }: { readonly wanted: string | null }) {
  const refused = useBench((bench) => bench.notices.at(-1) ?? null);
  return (
    <main className="waiting">
      <h1>Fairbout</h1>
      <p role="status">Laying the sheet out.</p>
      {wanted === null || refused === null ? null : <p>{refused}</p>}
    </main>
  );
}

/** Day, night, or as the system has it. */
function useLight() {
  const light = useBench((bench) => bench.preferences.light);
  useEffect(() => {
    const root = document.documentElement;
    if (light === "system") delete root.dataset["light"];
    else root.dataset["light"] = light;
  }, [light]);
}

/** The address and the open instrument say the same; the desk computes what is open. */
function useFollowedPlace(ready: boolean) {
  const wanted = usePlace().instrument;
  const open = useBench((bench) => bench.open?.id ?? null);
  const text = useBench((bench) => bench.open?.text ?? null);
  const before = useRef<string | null>(null);
  useEffect(() => {
    if (ready) deskDeeds.follow(text);
  }, [ready, text]);
  // the address was changed: by a link, by back and forward
  useEffect(() => {
    if (!ready) return;
    const left = before.current !== null && wanted === null;
    before.current = wanted;
    if (left) benchDeeds.close();
    else if (wanted !== null && wanted !== useBench.getState().open?.id)
      void benchDeeds.open(wanted).then((answer) => {
        if (!answer.ok) goTo({ instrument: null }, true);
      });
  }, [ready, wanted]);
  // an instrument was begun, or reopened after a reload
  useEffect(() => {
    if (ready && open !== null) goTo({ instrument: open }, placeOf(location.search).instrument === null);
  }, [ready, open]);
}
