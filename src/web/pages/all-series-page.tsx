export function AllSeriesPage() {
  return <h1>AllSeriesPage</h1>;
}
