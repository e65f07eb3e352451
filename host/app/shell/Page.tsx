/** The whole page. */
export function Page() {
  return <main />;
}
