import { Button, Group, Stack, Table, Text, Title } from '@mantine/core';
import { useState } from 'react';
import type { PlanePoint } from '../../../charts/plane/plane-request.ts';
import { pressureText } from '../../../charts/trade-text.ts';
import type { StoredRecord } from '../../../records/kinds.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { easiestPressure, PA_PER_ATM } from '../../drafts/pressure-units.ts';
import { numberText } from '../../drafts/typed-numbers.ts';
import { RecordActions } from '../record-actions.tsx';
import { LiteratureEditor } from '../record-forms/literature-form.tsx';

interface OwnPointsProps {
  view: SeriesView;
  /** place chosen in the map: what a new point begins with */
  chosen: PlanePoint | null;
}

/** Published points that the user added: listed, edited, removed; all can be undone. */
export function OwnPoints({ view, chosen }: OwnPointsProps) {
  const [open, setOpen] = useState<string | null>(null);
  const points = view.literaturePoints as StoredRecord<'literaturePoint'>[];
  const edited = points.find(({ id }) => id === open) ?? null;
  const oxygen = chosen && easiestPressure(chosen.x * PA_PER_ATM);
  return (
    <Stack gap="xs" component="section" aria-label="Published points that you added">
      <Group justify="space-between">
        <Title order={2}>Published points that you added</Title>
        <Button size="compact-sm" variant="light" onClick={() => setOpen('new')}>
          Add a published point
        </Button>
      </Group>
      {points.length === 0 ? (
        <Text size="sm" c="dimmed">
          None yet. A point needs its source; it is then laid over the map with the others.
        </Text>
      ) : (
        <Table aria-label="Points that you added" verticalSpacing={3}>
          <Table.Thead>
            <Table.Tr>
              {['Point', 'Phases', 'Where', 'Source', ''].map((text) => (
                <Table.Th key={text}>{text || <span className="visually-hidden">Change</span>}</Table.Th>
              ))}
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {points.map((point) => {
              const { label, phases, temperatureC, po2Atm, source, note } = point.body;
              return (
                <Table.Tr key={point.id} style={{ verticalAlign: 'top' }}>
                  <Table.Td style={{ overflowWrap: 'anywhere' }}>{label}</Table.Td>
                  <Table.Td style={{ overflowWrap: 'anywhere' }}>{phases}</Table.Td>
                  <Table.Td className="number">
                    {Number(temperatureC.toFixed(1))} °C, {pressureText(po2Atm)}
                  </Table.Td>
                  <Table.Td style={{ overflowWrap: 'anywhere' }}>
                    {source}
                    {note ? `; ${note}` : ''}
                  </Table.Td>
                  <Table.Td>
                    <RecordActions record={point} name={`point ${label}`} onEdit={() => setOpen(point.id)} />
                  </Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
      )}
      {open !== null ? (
        <LiteratureEditor
          key={open}
          seriesId={view.series.id}
          point={edited}
          all={points}
          initial={
            chosen && oxygen
              ? {
                  temperatureC: numberText(Number(chosen.temperatureC.toFixed(0))),
                  po2: numberText(Number(Number(oxygen.text).toPrecision(3))),
                  po2Unit: oxygen.unit,
                }
              : {}
          }
          onClose={() => setOpen(null)}
        />
      ) : null}
    </Stack>
  );
}
