import { Button, Group, Progress, SegmentedControl, Stack, Text } from '@mantine/core';
import { useNavigate, useParams } from '@tanstack/react-router';
import { useMemo, useRef, useState } from 'react';
import type { Run } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { sittingKey } from '../drafts/drive-draft.ts';
import { sittingFaultSentences } from '../drafts/field-names.ts';
import { EMPTY_FILM, filmLike } from '../drafts/film-draft.ts';
import { nextRunDraft } from '../drafts/run-draft.ts';
import { emptySitting, plannedRecords, type Sitting } from '../drafts/sitting.ts';
import { useKeptDraft } from '../kept-draft.ts';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { FaultList } from '../parts/record-forms/fault-list.tsx';
import { faultsOf } from '../parts/record-forms/fields.ts';
import { RunForm } from '../parts/record-forms/run-form.tsx';
import { SittingFilm } from '../parts/record-forms/sitting-film.tsx';
import { sayDone } from '../parts/undo-notice.tsx';
import { newId, useChange } from '../records.ts';
import { nothingWritten, saveRecords } from '../save-sitting.ts';
import { useSayDone } from '../undo.ts';

type RunRecord = SeriesView['runs'][number];

/** The run that was made last: by its start where one is stated, else by when it was recorded. */
function lastRun(runs: readonly RunRecord[]): RunRecord | undefined {
  const when = ({ body, createdAt }: RunRecord): string => body.startedAt ?? createdAt;
  return [...runs].sort((one, other) => when(other).localeCompare(when(one)))[0];
}

/** A sitting that begins as a copy of an earlier run: its conditions, and films on the same substrates. */
function copyOf(run: RunRecord, view: SeriesView): Sitting {
  const draft = nextRunDraft(
    run.body as Run,
    view.runs.map(({ body }) => body.label),
  );
  const films = view.films.filter(({ body }) => body.runId === run.id);
  const drafts = films.length > 0 ? films.map(({ body }) => filmLike(body)) : [EMPTY_FILM];
  return {
    origin: 'run',
    run: { id: newId(), draft },
    films: drafts.map((film, i) => ({
      id: newId(),
      draft: drafts.length === 1 ? film : { ...film, label: `${draft.label}-${i + 1}` },
      pieces: [],
    })),
  };
}

function RecordForm({ view }: { view: SeriesView }) {
  const seriesId = view.series.id;
  const navigate = useNavigate();
  const announce = useSayDone();
  const [sitting, setSitting] = useKeptDraft(sittingKey(seriesId), () => emptySitting(newId));
  const [attempts, setAttempts] = useState(0);
  const [progress, setProgress] = useState(0);
  const written = useRef(nothingWritten());
  const { records, faults } = useMemo(
    () =>
      plannedRecords(sitting, view.series.body.rareEarths[0]!, {
        // what an earlier attempt of this very sitting stored is not taken by another
        runs: view.runs.filter(({ id }) => id !== sitting.run.id).map(({ body }) => body.label),
        films: view.films.filter(({ id }) => !has(sitting, id)).map(({ body }) => body.label),
        pieces: view.pieces.filter(({ id }) => !has(sitting, id)).map(({ body }) => body.label),
      }),
    [sitting, view],
  );
  const sentences = sittingFaultSentences(sitting, faults);
  const begin = (next: Sitting) => {
    written.current = nothingWritten();
    setAttempts(0);
    setSitting(next);
  };
  /** Begins anew, with the way back to what was typed. */
  const replace = (next: Sitting, message: string) => {
    const before = sitting;
    begin(next);
    sayDone({ message, undo: async () => setSitting(before), refresh: () => undefined });
  };
  const save = useChange(async () => {
    await saveRecords(records, seriesId, written.current, (done, total) => setProgress(done / total));
    const films = records.filter(({ kind }) => kind === 'film');
    const names = films.map(({ body }) => body.label).join(', ');
    announce(`Recorded ${names}: ${records.length} records.`, written.current.changeIds);
    begin(emptySitting(newId));
    await navigate({
      to: '/series/$seriesId/films/$filmId',
      params: { seriesId, filmId: films[0]!.id },
    });
  });
  const last = lastRun(view.runs);
  const setFilms = (films: Sitting['films']) => setSitting({ ...sitting, films });
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        setAttempts(attempts + 1);
        if (sentences.length === 0) save.mutate(undefined);
      }}
    >
      <Stack gap="md">
        <Group>
          <SegmentedControl
            aria-label="Where the films come from"
            value={sitting.origin}
            onChange={(origin) => setSitting({ ...sitting, origin: origin as Sitting['origin'] })}
            data={[
              { value: 'run', label: 'A run of ours' },
              { value: 'received', label: 'Films received' },
            ]}
          />
          {last && sitting.origin === 'run' ? (
            <Button
              variant="light"
              onClick={() => replace(copyOf(last, view), `Copied run ${last.body.label}.`)}
            >
              Copy last run ({last.body.label})
            </Button>
          ) : null}
          <Button
            variant="subtle"
            color="gray"
            onClick={() => replace(emptySitting(newId), 'Cleared the form.')}
          >
            Clear the form
          </Button>
        </Group>
        {sitting.origin === 'run' ? (
          <RunForm
            draft={sitting.run.draft}
            onChange={(draft) => setSitting({ ...sitting, run: { ...sitting.run, draft } })}
            faults={faultsOf(faults, sitting.run.id)}
            isTried={attempts > 0}
            targets={view.targets}
            chambers={view.chambers}
          />
        ) : null}
        {sitting.films.map((film) => (
          <SittingFilm
            key={film.id}
            sitting={sitting}
            film={film}
            view={view}
            faults={faults}
            isTried={attempts > 0}
            onChange={(changed) =>
              setFilms(sitting.films.map((each) => (each.id === film.id ? changed : each)))
            }
            onRemove={
              sitting.films.length > 1
                ? () => setFilms(sitting.films.filter(({ id }) => id !== film.id))
                : null
            }
          />
        ))}
        <FaultList sentences={sentences} attempts={attempts} />
        <ProblemNotice error={save.error} />
        <Group className="no-print">
          <Button type="submit" loading={save.isPending}>
            Record {records.length === 1 ? '1 record' : `${records.length} records`}
          </Button>
          <Button
            variant="light"
            onClick={() =>
              setFilms([
                ...sitting.films,
                {
                  id: newId(),
                  draft: { ...(sitting.films.at(-1)?.draft ?? EMPTY_FILM), label: '', position: '' },
                  pieces: [],
                },
              ])
            }
          >
            Add a film
          </Button>
          <Text size="xs" c="dimmed">
            What is typed stays in this window until it is recorded. Empty fields count as not stated.
          </Text>
        </Group>
        {save.isPending ? <Progress value={progress * 100} aria-label="Records written" /> : null}
      </Stack>
    </form>
  );
}

function has(sitting: Sitting, id: string): boolean {
  return sitting.films.some((film) => film.id === id || film.pieces.some((piece) => piece.id === id));
}

/** Writes down a run with its films, pieces and treatments, all in one sitting. */
export function RecordPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/record' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => (
        <Stack gap="md">
          <Question of={view.series.body.label}>What did we make?</Question>
          <InventedNotice isInvented={view.series.body.isInvented} />
          <RecordForm key={seriesId} view={view} />
        </Stack>
      )}
    </LoadedSeries>
  );
}
