import { lazy, Suspense } from "react";

const InspectorBody = lazy(() =>
  import("./InspectorBody.tsx").then((module) => ({ default: module.InspectorBody })),
);

/**
 * Every field of the open document, with its unit, source, help and limits. `sections` are the document's first-level keys
 * that are shown first; without them all are.
 */
export function Inspector({ sections }: { readonly sections?: readonly string[] }) {
  return (
    <Suspense fallback={<p className="soft">Laying out the values.</p>}>
      <InspectorBody sections={sections} />
    </Suspense>
  );
}
