/** The scale of the tints. */
export function Tints() {
  const steps = ["in4", "in3", "in2", "in1", "paper", "out1", "out2", "out3", "out4"];
  return (
    <p className="tints">
      <span>inward</span>
      <svg width="198" height="18" aria-hidden="true">
        {steps.map((tint, i) => (
          <rect key={tint} x={22 * i} y="1" width="22" height="16" fill={`var(--${tint})`} />
        ))}
        <rect className="frame" x="0.5" y="0.5" width="197" height="17" />
      </svg>
      <span>outward; a line in ink where nothing moves</span>
    </p>
  );
}
