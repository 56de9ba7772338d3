export function TargetPage() {
  return <h1>TargetPage</h1>;
}
