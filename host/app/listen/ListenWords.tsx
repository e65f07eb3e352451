/** What the sound promises, and what it does not. */
export function ListenWords({ validToHz }: { readonly validToHz: number | null }) {
  return (
    <div className="note listen-words">
      <p>
        Listen for the <strong>difference between two designs</strong>: same pluck (1 N let go 120 mm from the
        saddle, at 45 degrees), same gain, 1 m in front of the top in open air.
      </p>
      <p>
        It is computed, string by string, on the computed body; nothing is recorded.{" "}
        {validToHz === null
          ? ""
          : `What would sound above ${Math.round(validToHz)} Hz is not foreseen and is left out, so it is duller than a guitar. `}
        It promises nothing of a player's hands, of a room, or of small loudspeakers, which give next to
        nothing under 200 Hz.
      </p>
    </div>
  );
}
