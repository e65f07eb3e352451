import { useEffect, useRef, useState } from "react";
import { useBench } from "../bench/index.ts";
import { deskDeeds } from "../desk/deskDeeds.ts";
import type { SheetKind } from "../desk/deskTypes.ts";
import { Button, Sheet } from "../kit/index.ts";
import { saveFile } from "./saveFile.ts";

interface Picture {
  readonly svg: Element;
  readonly heading: string;
  readonly caption: string;
}

/** The drawings of a printed report, shown in the page's inks; the whole report can be kept as a file and printed. */
export function ReportPictures({
  kind,
  name,
  fresh,
}: {
  readonly kind: SheetKind;
  readonly name: string;
  readonly fresh: boolean;
}) {
  const [html, setHtml] = useState<string | null>(null);
  const instrument = useBench((bench) => bench.open?.name ?? "");
  useEffect(() => {
    if (!fresh) return;
    let wanted = true;
    void deskDeeds.sheet(kind).then((sheet) => wanted && setHtml(sheet));
    return () => {
      wanted = false;
    };
  }, [kind, fresh]);
  if (html === null) return null;
  return (
    <Sheet
      heading={name}
      beside={
        <Button
          onPress={() => saveFile(new Blob([html], { type: "text/html" }), `${instrument} ${kind}.html`)}
        >
          Save to print
        </Button>
      }
    >
      <div className="report-pictures">
        {picturesOf(html).map(({ svg, heading, caption }, i) => (
          <figure key={i} className="figure">
            {heading === "" ? null : <h4>{heading}</h4>}
            <Adopted element={svg} />
            {caption === "" ? null : <figcaption>{caption}</figcaption>}
          </figure>
        ))}
      </div>
    </Sheet>
  );
}

/** Styles of the engine's own markup, which the page's policy would refuse: ours carries the same inks. */
const styles = /<style>[\s\S]*?<\/style>| style="[^"]*"/g;

function picturesOf(html: string): readonly Picture[] {
  const report = new DOMParser().parseFromString(html.replace(styles, ""), "text/html");
  return [...report.querySelectorAll("svg[role=img]")].map((svg) => ({
    svg,
    heading: svg.closest("section, article, figure")?.querySelector("h2, h3")?.textContent ?? "",
    caption: svg.closest("figure")?.querySelector("figcaption")?.textContent ?? "",
  }));
}

function Adopted({ element }: { readonly element: Element }) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    place.current?.replaceChildren(element);
  }, [element]);
  return <div ref={place} className="drawing" />;
}
