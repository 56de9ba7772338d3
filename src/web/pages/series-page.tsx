export function SeriesPage() {
  return <h1>SeriesPage</h1>;
}
