import { List, Stack, Table, Text, Title } from '@mantine/core';
import type { ResultRow } from '../../charts/measurement/results.ts';

interface ResultTableProps {
  rows: readonly ResultRow[];
  flags: readonly { code: string; message: string }[];
}

/** What a reduction found, each number with its uncertainty, and its remarks in words. */
export function ResultTable({ rows, flags }: ResultTableProps) {
  return (
    <Stack gap="sm">
      <Table verticalSpacing={3} hidden={rows.length === 0} aria-label="Numbers read from this curve">
        <Table.Tbody>
          {rows.map(({ label, text, isMissing }, i) => (
            <Table.Tr key={label}>
              <Table.Th fw={i === 0 ? 600 : 400}>{label}</Table.Th>
              <Table.Td ta="right" className="number" fw={i === 0 ? 600 : undefined}>
                {isMissing ? (
                  <Text span size="sm" c="dimmed">
                    {text}
                  </Text>
                ) : (
                  text
                )}
              </Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      <Text size="xs" c="dimmed" hidden={rows.length === 0}>
        ± is one standard uncertainty of the measurement.
      </Text>
      {flags.length > 0 ? (
        <div>
          <Title order={2} size="h3" mb={4}>
            Remarks
          </Title>
          <List size="sm" spacing={4}>
            {flags.map(({ code, message }) => (
              <List.Item key={`${code} ${message}`}>{message}</List.Item>
            ))}
          </List>
        </div>
      ) : null}
    </Stack>
  );
}
