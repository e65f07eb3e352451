import type { NeckReport } from "#engine/pipeline";
import { prose } from "./say.ts";
import { useUnits } from "./useUnits.ts";

/** What the document leaves open and was taken as is usual. */
export function Assumed({ values }: { readonly values: NeckReport["assumed"] }) {
  const units = useUnits();
  if (values.length === 0) return null;
  return (
    <details className="assumed">
      <summary>
        {values.length} value{values.length === 1 ? "" : "s"} taken as usual, because the document leaves them
        open
      </summary>
      <ul>
        {values.map((v) => (
          <li key={v.path}>
            <span className="figures">{v.path}</span>: {prose(v.value, units)}
            <span className="soft"> ({v.because})</span>
          </li>
        ))}
      </ul>
    </details>
  );
}
