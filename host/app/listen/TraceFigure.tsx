import { useEffect, useMemo, useState } from "react";
import { levelTraces } from "./levelTrace.ts";
import { listenDeeds } from "./listen.ts";
import type { Heard, Side } from "./listenTypes.ts";

const left = 52;
const right = 628;
const top = 12;
const bottom = 160;
/** dB under the loudest moment, at the foot of the drawing. */
const deepest = 50;
const rules = [0, 10, 20, 30, 40, 50];

const heightOf = (db: number) => top + ((bottom - top) * Math.min(deepest, Math.max(0, -db))) / deepest;
const placeOf = (t: number, seconds: number) => left + ((right - left) * t) / seconds;

/** How each side dies away, on one scale: A in ink, B dashed in the accent's ink, and where the sound is now. */
export function TraceFigure({
  heard,
  side,
  names,
}: {
  readonly heard: Heard;
  readonly side: Side;
  readonly names: Readonly<Record<Side, string>>;
}) {
  const seconds = heard.a.samples.length / heard.rate;
  const lines = useMemo(() => linesOf(heard), [heard]);
  const words =
    heard.b === null
      ? `Level of ${names.a} against time, re its loudest moment.`
      : `Level against time, re the loudest moment of both. A, ${names.a}: full line. B, ${names.b}: dashed.`;
  return (
    <figure className="figure trace">
      <svg className="drawing" viewBox="0 0 640 190" role="img" aria-label={words}>
        {rules.map((db) => (
          <g key={db}>
            <path d={`M${left} ${heightOf(-db)}H${right}`} className="rule" />
            <text x={left - 6} y={heightOf(-db) + 4} textAnchor="end">
              {db === 0 ? "0 dB" : `−${db}`}
            </text>
          </g>
        ))}
        {Array.from({ length: Math.floor(seconds) + 1 }, (_, s) => (
          <text key={`second ${s}`} x={placeOf(s, seconds)} y={bottom + 20} textAnchor="middle">
            {s === 0 ? "0 s" : s}
          </text>
        ))}
        {lines.map(({ of, data }) => (
          <path key={of} d={data} className={`level-line ${of}${of === side ? " heard" : ""}`} />
        ))}
        <NowLine seconds={seconds} />
      </svg>
      <figcaption>{words}</figcaption>
    </figure>
  );
}

function linesOf({ a, b, rate }: Heard) {
  const seconds = a.samples.length / rate;
  const sides = b === null ? [a.samples] : [a.samples, b.samples];
  return levelTraces(sides, rate).map(({ step, levelDb }, k) => ({
    of: k === 0 ? ("a" as const) : ("b" as const),
    data: Array.from(levelDb, (db, i) => {
      const [x, y] = [placeOf((i + 0.5) * step, seconds), heightOf(db)];
      return `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`;
    }).join(""),
  }));
}

/** Where the sound is. */
function NowLine({ seconds }: { readonly seconds: number }) {
  const [at, setAt] = useState<number | null>(null);
  useEffect(() => {
    let next = 0;
    const follow = () => {
      setAt(listenDeeds.position());
      next = requestAnimationFrame(follow);
    };
    follow();
    return () => cancelAnimationFrame(next);
  }, []);
  return at === null ? null : <path d={`M${placeOf(at, seconds)} ${top}V${bottom}`} className="now" />;
}
