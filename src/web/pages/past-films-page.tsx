import { Button, Group, List, Loader, Progress, Stack, Text, Title } from '@mantine/core';
import { Link, useParams } from '@tanstack/react-router';
import { useRef, useState } from 'react';
import { counted } from '../../charts/number-text.ts';
import type { TableReading } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { ProblemError, uploadFile } from '../api.ts';
import { importTable, lookAtTable, type TableLook } from '../imports.ts';
import { DryRun, TableDoubts } from '../parts/dry-run.tsx';
import { FileDrop } from '../parts/file-drop.tsx';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { ReadingAnswerButtons } from '../parts/reading-answer-buttons.tsx';
import { TableColumns } from '../parts/table-columns.tsx';
import { TABLE_ANSWERS } from '../reading-answers.ts';
import { newId, useRefresh } from '../records.ts';
import { type DryFilm, filmCount, mappingFaults, type TableMapping } from '../table-mapping.ts';
import { useSayDone } from '../undo.ts';

interface Sent {
  seriesId: string;
  sha256: string;
  fileName: string;
  /** what was answered about its text: the look and the import both go by it */
  reading: TableReading;
}

function PastFilmsBoard({ view }: { view: SeriesView }) {
  const seriesId = view.series.id;
  const [sent, setSent] = useState<Sent | null>(null);
  const [look, setLook] = useState<TableLook | null>(null);
  const [mapping, setMapping] = useState<TableMapping>({ columns: [] });
  const [error, setError] = useState<Error | null>(null);
  const [sentShare, setSentShare] = useState<number | null>(null);
  const [isLooking, setLooking] = useState(false);
  const [isReading, setReading] = useState(false);
  const [readCount, setReadCount] = useState<number | null>(null);
  const stop = useRef<AbortController | null>(null);
  /** kept until the table is read, so that a repeat after a break does nothing twice */
  const changeId = useRef(newId());
  const refresh = useRefresh();
  const sayDone = useSayDone();

  /** Runs one request at a time: a newer one ends the older. */
  const attempt = async (work: (signal: AbortSignal) => Promise<void>): Promise<void> => {
    stop.current?.abort(new DOMException('Cancelled.', 'AbortError'));
    const controller = new AbortController();
    stop.current = controller;
    setError(null);
    try {
      await work(controller.signal);
    } catch (caught) {
      if (!controller.signal.aborted) setError(caught as Error);
    } finally {
      if (stop.current === controller) {
        setSentShare(null);
        setLooking(false);
        setReading(false);
      }
    }
  };
  const lookWith = (file: Sent, wanted: TableMapping | null) =>
    attempt(async (signal) => {
      setLooking(true);
      try {
        const found = await lookAtTable(file, wanted, signal);
        setLook(found);
        setMapping(found.mapping as TableMapping);
      } catch (caught) {
        // the dry run before belongs to another mapping
        setLook((before) => before && { ...before, films: [], doubts: [] });
        throw caught;
      }
    });
  const drop = (file: File | undefined) => {
    if (!file) return;
    setLook(null);
    setReadCount(null);
    changeId.current = newId();
    void attempt(async (signal) => {
      setSentShare(0);
      const { sha256 } = await uploadFile(file, file.name, setSentShare, signal);
      const next = { seriesId, sha256, fileName: file.name, reading: {} };
      setSent(next);
      setSentShare(null);
      setLooking(true);
      const found = await lookAtTable(next, null, signal);
      setLook(found);
      setMapping(found.mapping as TableMapping);
    });
  };
  const answer = (said: TableReading) => {
    const next = { ...sent!, reading: { ...sent!.reading, ...said } };
    setSent(next);
    setLook(null);
    void lookWith(next, null); // its columns may be others now
  };
  const change = (next: TableMapping) => {
    setMapping(next);
    if (sent && mappingFaults(next).length === 0) void lookWith(sent, next);
  };
  const read = () =>
    attempt(async (signal) => {
      setReading(true);
      const answer = await importTable(sent!, mapping, changeId.current, signal);
      sayDone(`Read in ${counted(answer.filmCount, 'film')} from ${sent!.fileName}`, [answer.changeId]);
      setReadCount(answer.filmCount);
      setLook(null);
      await refresh();
    });
  const films = (look?.films ?? []) as DryFilm[];
  const answers = sent && error instanceof ProblemError ? TABLE_ANSWERS[error.problem.code] : undefined;
  const faults = look ? mappingFaults(mapping) : [];
  const isBusy = sentShare !== null || isLooking || isReading;
  return (
    <Stack gap="md">
      <FileDrop label="Table of past films" isMultiple={false} onFiles={(files) => drop(files[0])}>
        A table with one row a film or piece, saved from a spreadsheet as CSV or tab-separated text
      </FileDrop>
      {isBusy ? (
        <Group gap="sm" role="status">
          {sentShare === null ? <Loader size="sm" /> : null}
          <Text size="sm">
            {sentShare !== null
              ? 'Sending the table'
              : isReading
                ? 'Reading the films in'
                : 'Looking at the table'}
          </Text>
          {sentShare !== null ? (
            <Progress value={sentShare * 100} aria-label="Table sent" style={{ flex: 1 }} />
          ) : null}
          <Button
            size="compact-sm"
            variant="subtle"
            color="gray"
            onClick={() => stop.current?.abort(new DOMException('Cancelled.', 'AbortError'))}
          >
            Cancel
          </Button>
        </Group>
      ) : null}
      <ProblemNotice error={error} />
      {answers && sent ? (
        <Group gap="xs" role="group" aria-label="How the table is to be read">
          <ReadingAnswerButtons answers={answers} fileName={sent.fileName} onAnswer={answer} />
        </Group>
      ) : null}
      {readCount !== null ? (
        <Text>
          {counted(readCount, 'film')} read in, marked as typed without a raw file.{' '}
          <Link to="/series/$seriesId" params={{ seriesId }}>
            See them on the triangle
          </Link>
          .
        </Text>
      ) : null}
      {look && sent ? (
        <>
          <section aria-label="Columns">
            <Title order={2} mb={4}>
              {sent.fileName}: {counted(look.rowCount, 'row')}
            </Title>
            <TableColumns look={look} mapping={mapping} onChange={change} />
          </section>
          {faults.length > 0 ? (
            <List size="sm" role="alert">
              {faults.map((fault) => (
                <List.Item key={fault}>{fault}</List.Item>
              ))}
            </List>
          ) : (
            <>
              <Group>
                <Button
                  onClick={() => void read()}
                  loading={isReading}
                  disabled={isLooking || films.length === 0}
                >
                  Read in {counted(filmCount(films), 'film')}
                </Button>
                <Text size="sm" c="dimmed">
                  One change, which can be undone as one. Each value is marked: typed, no raw file.
                </Text>
              </Group>
              <TableDoubts doubts={look.doubts} />
              <DryRun films={films} />
            </>
          )}
        </>
      ) : null}
    </Stack>
  );
}

/** Films made before Peritect, from a table. */
export function PastFilmsPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/past-films' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => (
        <>
          <Question of={view.series.body.label}>What do earlier films say?</Question>
          <InventedNotice isInvented={view.series.body.isInvented} />
          <PastFilmsBoard view={view} />
        </>
      )}
    </LoadedSeries>
  );
}
