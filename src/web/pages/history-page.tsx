export function HistoryPage() {
  return <h1>HistoryPage</h1>;
}
