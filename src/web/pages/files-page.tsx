export function FilesPage() {
  return <h1>FilesPage</h1>;
}
