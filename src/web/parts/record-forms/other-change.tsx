import { Alert, Button, Table, Text } from '@mantine/core';
import type { Difference } from '../../drafts/differences.ts';

interface OtherChangeProps {
  differences: readonly Difference[];
  /** puts what the record says now into the form */
  onTake: (field: string) => void;
}

/** Says that the record was changed elsewhere while its form stood open, and what a save would write over. */
export function OtherChange({ differences, onTake }: OtherChangeProps) {
  return (
    <Alert
      color="yellow"
      variant="light"
      styles={{ title: { color: 'var(--mantine-color-text)' } }}
      role="alert"
      title="The record was changed elsewhere while this form stood open; what you typed stays here."
    >
      {differences.length === 0 ? (
        <Text size="sm">It says the same as this form now.</Text>
      ) : (
        <>
          <Table verticalSpacing={3} aria-label="Fields that differ">
            <Table.Thead>
              <Table.Tr>
                <Table.Th>Field</Table.Th>
                <Table.Th>The record says now</Table.Th>
                <Table.Th>You have here</Table.Th>
                <Table.Th>Or</Table.Th>
              </Table.Tr>
            </Table.Thead>
            <Table.Tbody>
              {differences.map(({ field, name, theirs, mine }) => (
                <Table.Tr key={field}>
                  <Table.Td style={{ whiteSpace: 'nowrap' }}>{name}</Table.Td>
                  <Table.Td style={{ overflowWrap: 'anywhere' }}>{theirs}</Table.Td>
                  <Table.Td style={{ overflowWrap: 'anywhere' }}>{mine}</Table.Td>
                  <Table.Td>
                    <Button
                      size="compact-xs"
                      variant="light"
                      aria-label={`Take what the record says: ${name}`}
                      onClick={() => onTake(field)}
                    >
                      Take theirs
                    </Button>
                  </Table.Td>
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
          <Text size="sm" mt="xs">
            Keep mine writes all that you have here over it; the other change stays in the record’s revisions.
            Leave as it was shows the record as it stands.
          </Text>
        </>
      )}
    </Alert>
  );
}
