import type { ReactNode } from "react";

/** Columns of figures; the first cell of a row heads it. Scrolls sideways by itself where the page is narrow. */
export function Table({
  caption,
  columns,
  rows,
  words = [],
  foot,
}: {
  readonly caption: string;
  readonly columns: readonly ReactNode[];
  readonly rows: readonly { readonly key: string; readonly cells: readonly ReactNode[] }[];
  /** Columns of words, which start at the left. */
  readonly words?: readonly number[];
  readonly foot?: readonly ReactNode[];
}) {
  const of = (column: number): string => (words.includes(column) ? "words" : "");
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what can scroll must be reachable without a pointer
    <section className="scroll" tabIndex={0} aria-label={caption}>
      <table className="table">
        <caption>{caption}</caption>
        <thead>
          <tr>
            {columns.map((head, c) => (
              <th key={c} scope="col" className={of(c)}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ key, cells }) => (
            <tr key={key}>{cells.map((cell, c) => cellOf(cell, c, of(c)))}</tr>
          ))}
        </tbody>
        {foot === undefined ? null : (
          <tfoot>
            <tr>{foot.map((cell, c) => cellOf(cell, c, of(c)))}</tr>
          </tfoot>
        )}
      </table>
    </section>
  );
}

function cellOf(cell: ReactNode, column: number, className: string) {
  return column === 0 ? (
    <th key={column} scope="row" className={className}>
      {cell}
    </th>
  ) : (
    <td key={column} className={className}>
      {cell}
    </td>
  );
}
