import { useMemo } from "react";
import type { VoiceView } from "#engine/drawings";
import { useWidth } from "./useWidth.ts";

type Chain = Float64Array;

const widestPx = 760;

/** Plans of two guitars over each other, tail on tail and centreline on centreline: A in ink, B dashed in the accent. */
export function PlanOverlay({
  a,
  b,
  plate,
}: {
  readonly a: VoiceView;
  readonly b: VoiceView;
  readonly plate: "top" | "back";
}) {
  const [box, width] = useWidth<HTMLDivElement>();
  const turned = a.hand !== b.hand;
  const laid = useMemo(() => layOver(a, b, Math.max(280, Math.min(width, widestPx))), [a, b, width]);
  return (
    <div className="plan-overlay" ref={box}>
      {width === 0 ? null : (
        <svg
          width={laid.widthPx}
          height={laid.heightPx}
          role="img"
          aria-label={`Plans over each other, from the ${plate === "top" ? "front" : "front, back's braces shown"}: ${sayPlans(a, b)}`}
        >
          {[
            { view: b, second: true },
            { view: a, second: false },
          ].map(({ view, second }) => (
            <g key={String(second)} className={second ? "plan second" : "plan"}>
              <path className="outline" d={laid.path(view.plan.outline, true, second)} />
              {plate === "top" ? (
                <>
                  <path className="fine" d={laid.path(view.plan.hole, true, second)} />
                  <path className="fine" d={laid.path(view.plan.bridge, true, second)} />
                </>
              ) : null}
              {view.plan.braces
                .filter((brace) => brace.plate === plate)
                .map(({ name, path }) => (
                  <path key={`${name}${path.join()}`} className="brace" d={laid.path(path, false, second)} />
                ))}
            </g>
          ))}
        </svg>
      )}
      <p className="note">
        {sayPlans(a, b)}
        {turned ? " B is for the other hand; it is turned over to lie on A." : ""}
      </p>
    </div>
  );
}

/** Both plans as their player looks down on them, at one scale. */
function layOver(a: VoiceView, b: VoiceView, widthPx: number) {
  const flip = a.hand === b.hand ? 1 : -1;
  const all = [a.plan.outline, b.plan.outline.map((v, i) => (i % 2 === 1 ? flip * v : v))];
  const of = (k: 0 | 1) => all.flatMap((chain) => [...chain].filter((_, i) => i % 2 === k));
  const [xs, ys] = [of(0), of(1)];
  const [minX, maxX] = [Math.min(...xs), Math.max(...xs)];
  const [minY, maxY] = [Math.min(...ys), Math.max(...ys)];
  const edge = 6;
  const scale = (widthPx - 2 * edge) / (maxX - minX);
  const place = (x: number, y: number) =>
    a.hand === "right"
      ? [edge + (maxX - x) * scale, edge + (y - minY) * scale]
      : [edge + (x - minX) * scale, edge + (maxY - y) * scale];
  const path = (chain: Chain, closed: boolean, second: boolean): string => {
    let data = "";
    for (let i = 0; i + 1 < chain.length; i += 2) {
      const [x, y] = place(chain[i]!, (second ? flip : 1) * chain[i + 1]!);
      data += `${i === 0 ? "M" : "L"}${x!.toFixed(1)} ${y!.toFixed(1)}`;
    }
    return closed ? `${data}Z` : data;
  };
  return { widthPx, heightPx: (maxY - minY) * scale + 2 * edge, path };
}

/** How the two bodies differ in size, in words. */
function sayPlans(a: VoiceView, b: VoiceView): string {
  const size = ({ plan }: VoiceView) => {
    const of = (k: 0 | 1) => [...plan.outline].filter((_, i) => i % 2 === k);
    const span = (values: readonly number[]) => 1000 * (Math.max(...values) - Math.min(...values));
    return { length: span(of(0)), breadth: span(of(1)) };
  };
  const [sa, sb] = [size(a), size(b)];
  const than = (from: number, to: number, more: string, less: string) => {
    const step = Math.round(to - from);
    return step === 0 ? null : `${Math.abs(step)} mm ${step > 0 ? more : less}`;
  };
  const told = [
    than(sa.length, sb.length, "longer", "shorter"),
    than(sa.breadth, sb.breadth, "broader", "narrower"),
  ].filter((words) => words !== null);
  return told.length === 0 ? "Both bodies are of one size." : `The body of B is ${told.join(" and ")}.`;
}
