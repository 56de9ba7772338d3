export function MeasurementPage() {
  return <h1>MeasurementPage</h1>;
}
