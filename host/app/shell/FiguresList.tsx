/** Terms and what stands beside them. */
export function FiguresList({ rows }: { readonly rows: readonly (readonly [term: string, text: string])[] }) {
  return (
    <dl className="figures-list">
      {rows.map(([term, text]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}
