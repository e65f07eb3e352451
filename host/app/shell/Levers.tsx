import { useEffect, useState } from "react";
import { deskDeeds } from "../desk/deskDeeds.ts";
import type { Lever, LeverFigure } from "../desk/deskTypes.ts";
import { useDesk } from "../desk/useDesk.ts";
import { focusField } from "../inspector/index.ts";
import { Button, Progress } from "../kit/index.ts";

/** Which figures of the levers a verdict is about. */
const figuresOf: Readonly<Record<string, readonly LeverFigure[]>> = {
  "main-air-placing": ["mainAirHz"],
  "main-top-placing": ["mainTopHz"],
  "main-back-placing": ["mainBackHz"],
  "wolf-risk": ["worstWolf", "wolfNotes"],
  evenness: ["levelSpreadDb"],
  "bridge-rotation": ["bridgeRotationDeg"],
};

const most = 5;

/** The strongest steps that a hand can make, for the verdict's own figure, by the reduced model. */
export function Levers({ verdict }: { readonly verdict: string }) {
  const figures = figuresOf[verdict];
  const [found, setFound] = useState<readonly Lever[] | null>(null);
  const [fraction, setFraction] = useState(0);
  const hand = useDesk((desk) => desk.hand);
  useEffect(() => {
    if (figures === undefined) return;
    let wanted = true;
    void deskDeeds.levers((f) => wanted && setFraction(f)).then((levers) => wanted && setFound(levers));
    return () => {
      wanted = false;
    };
  }, [figures]);
  if (figures === undefined) return null;
  if (found === null)
    return fraction === 0 && hand.status === "working" ? (
      <Progress words={`The hand's model is made first: ${hand.words}`} fraction={hand.fraction} />
    ) : (
      <Progress words="Trying every step" fraction={fraction} />
    );
  const strength = (lever: Lever): number =>
    Math.max(0, ...lever.effects.filter((e) => figures.includes(e.figure)).map((e) => e.strength));
  const strongest = found
    .filter((lever) => strength(lever) > 0.05)
    .sort((a, b) => strength(b) - strength(a))
    .slice(0, most);
  if (found.length === 0)
    return (
      <p className="note">
        Steps are tried as soon as the voice has been computed and the hand's model is ready.
      </p>
    );
  if (strongest.length === 0)
    return <p className="note">No single step within reach of the hand moves this figure.</p>;
  return (
    <ol className="levers">
      {strongest.map((lever) => (
        <li key={lever.path + lever.step}>
          <Button kind="quiet" onPress={() => focusField(lever.path)}>
            {lever.words}, {lever.step}
          </Button>
          {lever.effects
            .filter((e) => figures.includes(e.figure))
            .map((e) => (
              <span key={e.figure} className="figures">
                {sayFigure(e.figure, e.before)} to {sayFigure(e.figure, e.after)}
              </span>
            ))}
        </li>
      ))}
    </ol>
  );
}

function sayFigure(figure: LeverFigure, value: number | null): string {
  if (value === null) return "none";
  switch (figure) {
    case "mainAirHz":
    case "mainTopHz":
    case "mainBackHz":
      return `${value.toFixed(1)} Hz`;
    case "wolfNotes":
      return `${value.toFixed(0)} notes`;
    case "worstWolf":
      return `index ${value.toFixed(2)}`;
    case "levelSpreadDb":
      return `${value.toFixed(1)} dB`;
    case "bridgeRotationDeg":
      return `${value.toFixed(2)} degrees`;
  }
}
