import "./listen.css";
import type { PieceKind } from "#engine/pipeline";
import { useBench } from "../bench/index.ts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import { useDesk } from "../desk/useDesk.ts";
import { Button, Progress, Segments, Sheet, Tick } from "../kit/index.ts";
import { BesidePicker } from "./BesidePicker.tsx";
import { useBeside } from "./besideChoice.ts";
import { ListenWords } from "./ListenWords.tsx";
import { listenDeeds, useListening } from "./listen.ts";
import type { Asked, Heard, Side } from "./listenTypes.ts";
import { SaveSound } from "./SaveSound.tsx";
import { TraceFigure } from "./TraceFigure.tsx";
import { TuningPicker } from "./TuningPicker.tsx";
import { VolumeRule } from "./VolumeRule.tsx";

const pieces: readonly { readonly kind: PieceKind; readonly label: string }[] = [
  { kind: "scale", label: "Scale" },
  { kind: "chord", label: "Chord" },
  { kind: "phrase", label: "Phrase" },
];

/** Hears the computed instrument: pieces, notes of the board, two designs in step, and what the sound promises. */
export function ListenPanel() {
  const { heard, side, beside, status, fault } = useListening();
  const name = useBench((bench) => bench.open?.name ?? "this design");
  const voice = useDesk((desk) => desk.voice.value);
  const live = useDesk((desk) => desk.live !== null);
  const otherReady = useDesk((desk) => desk.beside.value !== null);
  const chosen = useBeside((own) => own.choice);
  const names: Record<Side, string> = {
    a: name,
    b: beside === "live" ? "the edit under the hand" : (chosen?.name ?? "the other"),
  };
  const ready = voice !== null && (beside !== "beside" || otherReady);
  const withoutLive = chosen === null ? null : "beside";
  return (
    <Sheet heading="Listen">
      <div className="listen">
        {voice === null ? <VoiceFirst /> : null}
        <div className="listen-row">
          {pieces.map(({ kind, label }) => (
            <Button key={kind} sign="play" isDisabled={!ready} onPress={() => listenDeeds.playPiece(kind)}>
              {label}
            </Button>
          ))}
          <Button sign="undo" kind="quiet" isDisabled={heard === null} onPress={listenDeeds.again}>
            Again
          </Button>
          <Button sign="stop" kind="quiet" isDisabled={status === "silent"} onPress={listenDeeds.stop}>
            Stop
          </Button>
        </div>
        <p className="note">A single note: strike it on the note board, by click, touch or Enter.</p>
        <VolumeRule />
        <TuningPicker />
        <BesidePicker />
        {live ? (
          <Tick
            isSelected={beside === "live"}
            onChange={(on) => listenDeeds.setBeside(on ? "live" : withoutLive)}
          >
            The edit under the hand beside it (there nut and frets are taken as rigid)
          </Tick>
        ) : null}
        {beside === null ? null : (
          <Segments<Side>
            label="Which of the two is heard"
            value={side}
            options={[
              { id: "a", label: `A: ${names.a}` },
              { id: "b", label: `B: ${names.b}` },
            ]}
            onChange={listenDeeds.choose}
          />
        )}
        <p role="status" className={fault === null ? "note" : "accent"}>
          {fault ?? (status === "rendering" ? "Rendering." : status === "playing" ? "Playing." : "Silent.")}
        </p>
        {heard === null ? null : (
          <>
            <TraceFigure heard={heard} side={side} names={names} />
            <HeardWords heard={heard} />
            <SaveSound name={names[side]} what={sayAsked(heard.asked)} />
          </>
        )}
        <ListenWords validToHz={voice?.board.validToHz ?? null} />
      </div>
    </Sheet>
  );
}

function VoiceFirst() {
  const stage = useDesk((desk) => desk.voice);
  if (stage.status === "working" || stage.status === "waiting")
    return (
      <Progress
        words={`The voice is computed first: ${stage.words}`}
        fraction={stage.fraction}
        onCancel={() => deskDeeds.cancel("voice")}
      />
    );
  return (
    <div className="listen-row">
      <p>{stage.fault ?? "The voice is not computed yet."}</p>
      <Button kind="main" onPress={() => deskDeeds.want("voice")}>
        Compute the voice
      </Button>
    </div>
  );
}

function HeardWords({ heard }: { readonly heard: Heard }) {
  const silent = heard.a.leftOut + (heard.b?.leftOut ?? 0);
  const words = [
    ...(silent === 0 ? [] : [`${silent} of the notes lie above what is foreseen and are silent.`]),
    ...(heard.reducedDb === 0
      ? []
      : [`The limits of loudness took ${heard.reducedDb.toFixed(1)} dB off, of both alike.`]),
  ];
  return words.length === 0 ? null : <p className="note">{words.join(" ")}</p>;
}

function sayAsked(asked: Asked): string {
  const what = asked.kind === "note" ? `string ${asked.string} fret ${asked.fret}` : asked.kind;
  return asked.tuning === null ? what : `${what}, ${asked.tuning}`;
}
