import { Button, Stack, Table, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useParams } from '@tanstack/react-router';
import { useState } from 'react';
import type { SeriesView } from '../../records/series-view.ts';
import { changesByDay } from '../changes-by-day.ts';
import { type Change, seriesChanges, undoChange } from '../imports.ts';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { useChange } from '../records.ts';

function ChangeRow({ change, undone }: { change: Change; undone: Change | undefined }) {
  const undo = useChange(() => undoChange(change.id));
  const what = change.undoes ? `took back: ${undone?.what ?? 'an earlier change'}` : change.what;
  return (
    <Table.Tr>
      <Table.Td className="number" style={{ whiteSpace: 'nowrap', verticalAlign: 'top' }}>
        {new Date(change.at).toLocaleTimeString('en-GB')}
      </Table.Td>
      <Table.Td style={{ overflowWrap: 'anywhere', verticalAlign: 'top' }}>{change.by}</Table.Td>
      <Table.Td style={{ overflowWrap: 'anywhere' }}>
        <Text size="sm" td={change.isUndone ? 'line-through' : undefined} span>
          {what}
        </Text>
        <ProblemNotice error={undo.error} />
      </Table.Td>
      <Table.Td ta="right" style={{ verticalAlign: 'top' }}>
        {change.isUndone ? (
          <Text size="sm" c="dimmed">
            taken back
          </Text>
        ) : (
          <Button
            size="compact-sm"
            variant="subtle"
            loading={undo.isPending}
            aria-label={`Undo: ${what}`}
            onClick={() => undo.mutate(undefined)}
          >
            Undo
          </Button>
        )}
      </Table.Td>
    </Table.Tr>
  );
}

function HistoryBoard({ view }: { view: SeriesView }) {
  const seriesId = view.series.id;
  const [shownCount, setShownCount] = useState(60);
  const { data, error, isPending } = useQuery({
    queryKey: ['series', seriesId, 'changes'],
    queryFn: () => seriesChanges(seriesId),
  });
  if (error) return <ProblemNotice error={error} />;
  if (isPending) return <Text c="dimmed">Reading the history ...</Text>;
  if (data.length === 0) return <Text c="dimmed">Nothing was changed yet.</Text>;
  const days = changesByDay(data.slice(0, shownCount), (at) =>
    new Date(at).toLocaleDateString('en-GB', { dateStyle: 'long' }),
  );
  return (
    <Stack maw={960}>
      {days.map(({ day, changes }) => (
        <Table key={day} verticalSpacing={4} layout="fixed" captionSide="top">
          <Table.Caption ta="left" fw={600} fz="md" c="var(--mantine-color-text)">
            {day}
          </Table.Caption>
          <Table.Thead>
            <Table.Tr>
              <Table.Th w="6rem">When</Table.Th>
              <Table.Th w="9rem">Who</Table.Th>
              <Table.Th>What</Table.Th>
              <Table.Th w="7rem" ta="right">
                Back
              </Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {changes.map((change) => (
              <ChangeRow
                key={change.id}
                change={change}
                undone={data.find(({ id }) => id === change.undoes)}
              />
            ))}
          </Table.Tbody>
        </Table>
      ))}
      {data.length > shownCount ? (
        <Button variant="light" onClick={() => setShownCount(shownCount + 100)}>
          Show earlier changes
        </Button>
      ) : null}
    </Stack>
  );
}

/** Every change of a series, newest first. */
export function HistoryPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/history' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => (
        <>
          <Question of={view.series.body.label}>Who changed what, and can it be taken back?</Question>
          <InventedNotice isInvented={view.series.body.isInvented} />
          <HistoryBoard view={view} />
        </>
      )}
    </LoadedSeries>
  );
}
