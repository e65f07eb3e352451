import { lazy, Suspense, useState } from "react";
import { benchDeeds, useBench } from "../bench/index.ts";
import { Button, IconButton, Menu, Segments } from "../kit/index.ts";
import { startTour } from "../start/tourSteps.ts";
import { type Paper, papers } from "./papers/papers.ts";
import { goTo } from "./place.ts";
import { useDeed } from "./useDeed.ts";

const PaperDialog = lazy(() => import("./papers/PaperDialog.tsx").then((m) => ({ default: m.PaperDialog })));

const HandsFull = lazy(() => import("../start/HandsFull.tsx").then((m) => ({ default: m.HandsFull })));

const helps = [
  { id: "tour", label: "Be shown round", detail: "six stops" },
  { id: "keys", label: "Keys", detail: "everything works without a pointer" },
] as const;

/** Above the sheet: what can be done with the whole instrument. */
export function TopLine({ alone, onAlone }: { readonly alone: boolean; readonly onAlone: () => void }) {
  const [handsFull, setHandsFull] = useState(false);
  const [paper, setPaper] = useState<Paper | null>(null);
  const name = useBench((bench) => bench.open?.name ?? "");
  return (
    <header className="top-line">
      <div className="name">
        <h1>{name}</h1>
        <SavedState />
      </div>
      <Steps />
      <div className="deeds">
        <Menu
          label="Papers"
          sign="down"
          items={papers}
          onAction={(id) => {
            if (id === "list") goTo({ instrument: null });
            else setPaper(id);
          }}
        />
        <Button kind="quiet" onPress={() => setHandsFull(true)}>
          Hands full
        </Button>
        <Menu
          label="Help"
          items={helps}
          onAction={(id) => (id === "tour" ? startTour() : setPaper("keys"))}
        />
        <UnitChoice />
        <LightChoice />
        <IconButton
          label={alone ? "Show values and verdicts" : "The drawing alone"}
          sign={alone ? "left" : "fit"}
          onPress={onAlone}
        />
      </div>
      {handsFull ? (
        <Suspense>
          <HandsFull onClose={() => setHandsFull(false)} />
        </Suspense>
      ) : null}
      {paper === null ? null : (
        <Suspense>
          <PaperDialog paper={paper} onClose={() => setPaper(null)} />
        </Suspense>
      )}
    </header>
  );
}

/** Whether anything could be lost, in words. */
function SavedState() {
  const connection = useBench((bench) => bench.connection);
  const unsent = useBench((bench) => bench.unsent);
  const edits = `${unsent} edit${unsent === 1 ? "" : "s"}`;
  const words =
    connection === "lost"
      ? unsent === 0
        ? "the server does not answer; edits will be kept in this browser"
        : `${edits} kept in this browser: the server does not answer`
      : unsent > 0
        ? `sending ${edits}`
        : "all kept";
  return (
    <p className={connection === "lost" ? "saved lost" : "saved"} role="status">
      {words}
    </p>
  );
}

/** One step back, one forward, with what it would do. */
function Steps() {
  const undo = useBench((bench) => bench.open?.undo ?? null);
  const redo = useBench((bench) => bench.open?.redo ?? null);
  const { fault, does } = useDeed();
  return (
    <div className="steps">
      <Step word="Undo" what={undo} onPress={() => void does(benchDeeds.undo())} />
      <Step word="Redo" what={redo} onPress={() => void does(benchDeeds.redo())} />
      {fault === null ? null : (
        <p role="alert" className="step-fault">
          {fault}
        </p>
      )}
    </div>
  );
}

function Step({
  word,
  what,
  onPress,
}: {
  readonly word: "Undo" | "Redo";
  readonly what: string | null;
  readonly onPress: () => void;
}) {
  return (
    <Button
      kind="quiet"
      sign={word === "Undo" ? "undo" : "redo"}
      className="step"
      isDisabled={what === null}
      onPress={onPress}
    >
      <span className="step-words">
        <span>{word}</span>
        {what === null ? null : <span className="soft">{what}</span>}
      </span>
    </Button>
  );
}

function UnitChoice() {
  const preferences = useBench((bench) => bench.preferences);
  return (
    <Segments
      label="Units shown"
      value={preferences.units}
      options={[
        { id: "metric", label: "mm" },
        { id: "inch", label: "in" },
      ]}
      onChange={(units) => void benchDeeds.prefer({ ...preferences, units })}
    />
  );
}

function LightChoice() {
  const preferences = useBench((bench) => bench.preferences);
  const dark =
    preferences.light === "night" ||
    (preferences.light === "system" && matchMedia("(prefers-color-scheme: dark)").matches);
  return (
    <IconButton
      label={dark ? "Daylight" : "Lamp in a dark shop"}
      sign={dark ? "sun" : "lamp"}
      onPress={() => void benchDeeds.prefer({ ...preferences, light: dark ? "day" : "night" })}
    />
  );
}
