/** The hatching of what is not foreseen, as a pattern of that id for the drawing it stands in. */
export function HatchPattern({ id }: { readonly id: string }) {
  return (
    <defs>
      <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
        <path d="M0 3H6" className="hatch-line" />
      </pattern>
    </defs>
  );
}
