import {
  Accordion,
  Button,
  Group,
  Progress,
  SegmentedControl,
  Stack,
  Table,
  Text,
  Title,
} from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { Link, useParams, useSearch } from '@tanstack/react-router';
import { useEffect, useState, useSyncExternalStore } from 'react';
import { counted } from '../../charts/number-text.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { mappingText } from '../column-mapping.ts';
import { queueOf } from '../file-queues.ts';
import { importRoles, undoChange } from '../imports.ts';
import { FileDrop } from '../parts/file-drop.tsx';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { MappingStep } from '../parts/mapping-step.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { sayDone } from '../parts/undo-notice.tsx';
import { WaitingFileRow } from '../parts/waiting-file-row.tsx';
import { useRefresh } from '../records.ts';
import {
  type FileKind,
  fileCounts,
  isReady,
  type KindAnswers,
  kindsOf,
  mappingOf,
  type WaitingFile,
} from '../waiting-files.ts';

type Shown = 'all' | 'asked' | 'read' | 'failed';

/** How the columns of a kind of file are read, in one line. */
function kindText({ files }: FileKind, answers: KindAnswers): string {
  const mapping = mappingOf(files[0]!, answers);
  return mapping ? `${counted(files.length, 'file')} of ${mapping.kind}: ${mappingText(mapping)}` : '';
}

function FilesBoard({ view, pieceId }: { view: SeriesView; pieceId: string | null }) {
  const seriesId = view.series.id;
  const queue = queueOf(seriesId);
  const { files, answers, isReading } = useSyncExternalStore(queue.subscribe, queue.snapshot);
  const [shown, setShown] = useState<Shown>('all');
  const [error, setError] = useState<Error | null>(null);
  const refresh = useRefresh();
  const roles = useQuery({
    queryKey: ['import-roles'],
    queryFn: importRoles,
    staleTime: Number.POSITIVE_INFINITY,
  });
  useEffect(() => queue.setView(view), [queue, view]);

  const counts = fileCounts(files, answers);
  const kinds = kindsOf(files, answers);
  const isShown: Record<Shown, (file: WaitingFile) => boolean> = {
    all: () => true,
    asked: (file) => file.step === 'waiting' && !isReady(file, answers),
    read: ({ step }) => step === 'read',
    failed: ({ step }) => step === 'failed' || step === 'cancelled',
  };
  const takeBack = (changeId: string) => {
    setError(null);
    undoChange(changeId).catch(setError).finally(refresh);
  };
  const readAll = async () => {
    setError(null);
    const read = await queue.readReady();
    await refresh();
    if (read.length === 0) return;
    const undo = async () => {
      // one of them may have been taken back by itself meanwhile
      const isStillRead = (changeId: string) =>
        queue.snapshot().files.some(({ result }) => result?.changeId === changeId);
      for (const { changeId } of read.toReversed()) if (isStillRead(changeId)) await undoChange(changeId);
    };
    sayDone({ message: `Read ${counted(read.length, 'file')}`, undo, refresh });
  };
  const done = counts.read + counts.failed;
  return (
    <Stack gap="md">
      <FileDrop label="Measurement files" onFiles={(dropped) => queue.add(dropped, pieceId)}>
        Scans, R(T), M(T), current-voltage curves, loops, chamber logs: text files of any instrument, many at
        once, up to 20 MB each
      </FileDrop>
      {view.pieces.length === 0 ? (
        <Text>
          This series has no piece yet that a file could belong to.{' '}
          <Link to="/series/$seriesId/record" params={{ seriesId }}>
            Record a run, its films and pieces
          </Link>{' '}
          first.
        </Text>
      ) : null}
      <ProblemNotice error={roles.error ?? error} />
      {files.length > 0 ? (
        <>
          <Group justify="space-between" gap="sm">
            <SegmentedControl
              size="xs"
              aria-label="Files shown"
              value={shown}
              onChange={(value) => setShown(value as Shown)}
              data={[
                { value: 'all', label: `All ${files.length}` },
                { value: 'asked', label: `Waiting for an answer ${counts.asked}` },
                { value: 'read', label: `Read ${counts.read}` },
                { value: 'failed', label: `Not read ${counts.failed + counts.cancelled}` },
              ]}
            />
            <Group gap="xs">
              {counts.read + counts.cancelled > 0 && !isReading ? (
                <Button
                  variant="subtle"
                  color="gray"
                  onClick={() =>
                    queue.forget(
                      files
                        .filter(({ step }) => step === 'read' || step === 'cancelled')
                        .map(({ key }) => key),
                    )
                  }
                >
                  Clear the list of those read
                </Button>
              ) : null}
              {isReading ? (
                <Button variant="default" onClick={() => queue.cancelReading()}>
                  Cancel
                </Button>
              ) : null}
              <Button
                onClick={() => void readAll().catch(setError)}
                disabled={counts.ready === 0 && !isReading}
                loading={isReading}
              >
                {counts.ready > 0 ? `Read ${counted(counts.ready, 'file')}` : 'Read'}
              </Button>
            </Group>
          </Group>
          {isReading ? (
            <Progress
              value={(100 * done) / Math.max(1, done + counts.reading)}
              aria-label="Files read"
              size="sm"
            />
          ) : null}
          <Text size="sm" c="dimmed" role="status">
            {[
              counts.coming > 0 ? `${counts.coming} coming` : '',
              `${counts.ready} ready`,
              `${counts.asked} waiting for an answer`,
              `${counts.read} read`,
              counts.failed > 0 ? `${counts.failed} not read` : '',
            ]
              .filter(Boolean)
              .join(', ')}
          </Text>
        </>
      ) : null}
      {roles.data
        ? kinds
            .filter(({ isAsked }) => isAsked)
            .map((fileKind) => (
              <MappingStep
                key={fileKind.shape}
                fileKind={fileKind}
                roles={roles.data}
                answer={answers[fileKind.shape]}
                onAnswer={(answer) => queue.answer(fileKind.shape, answer)}
              />
            ))
        : null}
      {files.length > 0 ? (
        <Table layout="fixed" verticalSpacing={6} aria-label="Files">
          <Table.Thead>
            <Table.Tr>
              <Table.Th w="30%">File</Table.Th>
              <Table.Th w="32%">Of which piece, in which state</Table.Th>
              <Table.Th>What it says</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {files.filter(isShown[shown]).map((file) => (
              <WaitingFileRow
                key={file.key}
                file={file}
                answers={answers}
                queue={queue}
                view={view}
                onTakeBack={takeBack}
              />
            ))}
          </Table.Tbody>
        </Table>
      ) : null}
      {roles.data && kinds.some(({ isAsked }) => !isAsked) ? (
        <section aria-label="How the columns are read">
          <Title order={2} mb={4}>
            How the columns are read
          </Title>
          <Accordion variant="contained" order={3}>
            {kinds
              .filter(({ isAsked }) => !isAsked)
              .map((fileKind) => (
                <Accordion.Item key={fileKind.shape} value={fileKind.shape}>
                  <Accordion.Control>
                    <Text size="sm">{kindText(fileKind, answers)}</Text>
                  </Accordion.Control>
                  <Accordion.Panel>
                    <MappingStep
                      fileKind={fileKind}
                      roles={roles.data}
                      answer={answers[fileKind.shape]}
                      onAnswer={(answer) => queue.answer(fileKind.shape, answer)}
                    />
                  </Accordion.Panel>
                </Accordion.Item>
              ))}
          </Accordion>
        </section>
      ) : null}
    </Stack>
  );
}

/** Measurement files into the records. */
export function FilesPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/files' });
  const { pieceId } = useSearch({ from: '/series/$seriesId/files' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => {
        const piece = view.pieces.find(({ id }) => id === pieceId);
        return (
          <>
            <Question
              of={piece ? `${view.series.body.label}, piece ${piece.body.label}` : view.series.body.label}
            >
              What do these files say, and of which piece?
            </Question>
            <InventedNotice isInvented={view.series.body.isInvented} />
            <FilesBoard view={view} pieceId={piece?.id ?? null} />
          </>
        );
      }}
    </LoadedSeries>
  );
}
