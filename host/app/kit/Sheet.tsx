import { type ReactNode, useId } from "react";

/** A part of the sheet of paper under its own heading; `beside` stands at the heading's end. */
export function Sheet({
  heading,
  level = 3,
  beside,
  children,
}: {
  readonly heading: string;
  readonly level?: 2 | 3 | 4;
  readonly beside?: ReactNode;
  readonly children: ReactNode;
}) {
  const id = useId();
  const Heading = `h${level}` as const;
  return (
    <section className="sheet" aria-labelledby={id}>
      <div className="sheet-heading">
        <Heading id={id}>{heading}</Heading>
        {beside}
      </div>
      {children}
    </section>
  );
}

/** The corner of a drawing: what a later reader asks for first. */
export function TitleBlock({
  cells,
}: {
  readonly cells: readonly { readonly term: string; readonly text: ReactNode }[];
}) {
  return (
    <dl className="title-block">
      {cells.map(({ term, text }) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}
