export function FilmPage() {
  return <h1>FilmPage</h1>;
}
