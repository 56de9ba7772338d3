import { Button, Group, Stack, Table, Text, Title } from '@mantine/core';
import { useState } from 'react';
import type { SeriesView } from '../../../records/series-view.ts';
import { RecordActions } from '../record-actions.tsx';
import { PowderEditor } from '../record-forms/powder-form.tsx';

/** Powders of the user's own, shared by all series: listed, added, edited, removed; all can be undone. */
export function PowderLibrary({ powders }: { powders: SeriesView['powders'] }) {
  const [open, setOpen] = useState<string | null>(null);
  return (
    <Stack gap="xs" component="section" aria-label="Powders of your own" className="no-print">
      <Group justify="space-between">
        <Title order={2}>Powders of your own</Title>
        <Button size="compact-sm" variant="light" onClick={() => setOpen('new')}>
          Add a powder to the library
        </Button>
      </Group>
      {powders.length === 0 ? (
        <Text size="sm" c="dimmed">
          None yet. A powder added here is offered in every series, with its drying and cautions.
        </Text>
      ) : (
        <Table.ScrollContainer minWidth={560}>
          <Table aria-label="Powders that you added" verticalSpacing={3}>
            <Table.Thead>
              <Table.Tr>
                {['Powder', 'Drying', 'Codes and caution', 'Source', ''].map((text) => (
                  <Table.Th key={text}>{text || <span className="visually-hidden">Change</span>}</Table.Th>
                ))}
              </Table.Tr>
            </Table.Thead>
            <Table.Tbody>
              {powders.map((powder) => {
                const { label, formula, drying, hazardCodes, caution, source, note } = powder.body;
                return (
                  <Table.Tr key={powder.id} style={{ verticalAlign: 'top', overflowWrap: 'anywhere' }}>
                    <Table.Td>
                      {formula}, {label}
                      {note ? `; ${note}` : ''}
                    </Table.Td>
                    <Table.Td>{drying}</Table.Td>
                    <Table.Td>{[hazardCodes.join(', '), caution].filter(Boolean).join(': ')}</Table.Td>
                    <Table.Td>{source}</Table.Td>
                    <Table.Td>
                      <RecordActions
                        record={powder}
                        name={`powder ${label}`}
                        onEdit={() => setOpen(powder.id)}
                      />
                    </Table.Td>
                  </Table.Tr>
                );
              })}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      {open === null ? null : (
        <PowderEditor
          key={open}
          powder={powders.find(({ id }) => id === open) ?? null}
          all={powders}
          onClose={() => setOpen(null)}
        />
      )}
    </Stack>
  );
}
