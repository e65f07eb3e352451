import type { Draft } from "./planState.ts";
import type { Place } from "./sheetLayout.ts";
import type { Size } from "./sheetView.ts";
import { shownAngle, shownLength, type Units } from "./typed.ts";
import { handleWords } from "./words.ts";

/** What the hand is setting, beside it; and why it may not be so. */
export function Readout({
  draft,
  at,
  units,
  size,
  refusal,
}: {
  readonly draft: Draft;
  readonly at: Place;
  readonly units: Units;
  readonly size: Size;
  readonly refusal: string | null;
}) {
  if (draft.settings.length === 0 && refusal === null) return null;
  const left = Math.min(Math.max(at[0] + 18, 8), Math.max(8, size.width - 250));
  const top = at[1] > size.height - 110 ? at[1] - 84 : at[1] + 14;
  return (
    <div className="plan-readout figures" style={{ left, top }} aria-hidden="true">
      {lines(draft, units).map((line) => (
        <span key={line}>{line}</span>
      ))}
      {refusal === null ? null : <span className="fault">{refusal}</span>}
    </div>
  );
}

function lines(draft: Draft, units: Units): readonly string[] {
  const { handle, to, settings } = draft;
  const figures = settings.flatMap((setting) => {
    if (setting.kind === "length") return [`${lastWord(setting.path)} ${shownLength(setting.value, units)}`];
    if (setting.kind === "angle") return [`${lastWord(setting.path)} ${shownAngle(setting.value)}`];
    return [];
  });
  if (figures.length > 0) return figures;
  return handleWords({ ...handle, at: to }, units).split(", ");
}

/** The field's own name in words: "depth at tail". */
function lastWord(path: string): string {
  const parts = path.replace(/\[(\d+)\]/g, (_, i) => ` ${Number(i) + 1}`).split(".");
  return (parts.at(-1) ?? "").replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
}
