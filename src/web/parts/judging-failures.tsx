import { Alert, List } from '@mantine/core';

/** Files whose numbers could not be found anew before a verdict; nothing where all could. */
export function JudgingFailures({ failures }: { failures: readonly string[] | undefined }) {
  if (!failures || failures.length === 0) return null;
  return (
    <Alert
      color="yellow"
      variant="light"
      styles={{ title: { color: 'var(--mantine-color-text)' } }}
      role="alert"
      title="Judged, but not on fresh numbers everywhere"
    >
      <List size="sm">
        {failures.map((failure) => (
          <List.Item key={failure} style={{ overflowWrap: 'anywhere' }}>
            {failure}
          </List.Item>
        ))}
      </List>
    </Alert>
  );
}
