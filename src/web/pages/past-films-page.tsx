export function PastFilmsPage() {
  return <h1>PastFilmsPage</h1>;
}
