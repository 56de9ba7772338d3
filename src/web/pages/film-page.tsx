import { Button, Group, Stack, Text, Title } from '@mantine/core';
import { useNavigate, useParams } from '@tanstack/react-router';
import { useState } from 'react';
import { counted, uncertainText } from '../../charts/number-text.ts';
import type { Stated } from '../../records/common.ts';
import { filmRows, isInformed } from '../../records/film-rows.ts';
import { type FilmStory, filmStory } from '../../records/film-story.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { pieceNames } from '../drafts/names.ts';
import { judgePieces } from '../judging.ts';
import { PieceSection } from '../parts/film-story/piece-section.tsx';
import { Revisions } from '../parts/film-story/revisions.tsx';
import { Particulars, RunSection } from '../parts/film-story/run-section.tsx';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { JudgingFailures } from '../parts/judging-failures.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { RecordActions } from '../parts/record-actions.tsx';
import { FilmEditor, PieceEditor } from '../parts/record-forms/editors.tsx';
import { VerdictBadge } from '../parts/verdict-badge.tsx';
import { newId, useChange } from '../records.ts';
import { useSayDone } from '../undo.ts';

const rateText = (rate: Stated | null): string | null =>
  rate && `${uncertainText(rate.value, rate.standardUncertainty)} nm/s`;

/** The answer, before what it rests on. */
function Answer({ view, story }: { view: SeriesView; story: FilmStory }) {
  const rows = filmRows(view);
  const row = rows.find(({ film }) => film.id === story.film.id)!;
  const best = row.best;
  const treatment = view.treatments.find(({ id }) => id === best?.stateTreatmentId);
  return (
    <Group gap="md" mb="xs">
      <VerdictBadge outcome={row.outcome} isStale={best?.verdict?.isStale ?? false} isLarge />
      <Text size="sm" c="dimmed">
        {best?.verdict
          ? `Piece ${best.piece.body.label}, ${treatment ? `after ${treatment.body.label}` : 'as it left the run'}, speaks for the film: place ${row.rank} of ${rows.length}.`
          : !row.states.some(isInformed)
            ? 'Nothing to judge yet: name a piece, measure it, and drop its files.'
            : 'Not judged yet.'}
      </Text>
    </Group>
  );
}

function Story({ view, story }: { view: SeriesView; story: FilmStory }) {
  const [open, setOpen] = useState<'nothing' | 'film' | 'piece'>('nothing');
  const navigate = useNavigate();
  const seriesId = view.series.id;
  const { film, pieces } = story;
  const row = filmRows(view).find((each) => each.film.id === film.id);
  const best = row?.best ?? null;
  const states = row?.states ?? [];
  const { label, substrate, substrateLot, position, thicknessNm, note } = film.body;
  const announce = useSayDone();
  const judge = useChange(async () => {
    const changeId = newId();
    const pieceIds = pieces.map(({ piece }) => piece.id);
    const judged = await judgePieces(view, pieceIds, changeId);
    announce(`Judged film ${label}: ${counted(judged.verdictCount, 'verdict')}.`, [changeId]);
    return judged;
  });
  const close = () => setOpen('nothing');
  return (
    <>
      <Question
        of={
          <>
            Film {label} of {view.series.body.label}
          </>
        }
        actions={
          <Group gap="xs" className="no-print">
            <Button
              variant="light"
              loading={judge.isPending}
              disabled={!states.some(isInformed)}
              onClick={() => judge.mutate(undefined)}
            >
              {states.some(({ verdict }) => verdict) ? 'Judge again' : 'Judge'}
            </Button>
            <Button variant="subtle" onClick={() => setOpen('piece')}>
              Add a piece
            </Button>
          </Group>
        }
      >
        What did we do to it, what is it, and does it pass?
      </Question>
      <InventedNotice isInvented={view.series.body.isInvented} />
      <Stack gap="lg" mt="sm">
        <div>
          <Answer view={view} story={story} />
          <ProblemNotice error={judge.error} />
          <JudgingFailures failures={judge.data?.failures} />
        </div>
        <Stack gap="xs">
          <Group justify="space-between">
            <Title order={2} style={{ overflowWrap: 'anywhere' }}>
              Film {label}
            </Title>
            {open === 'film' ? null : (
              <RecordActions
                record={film}
                name={`film ${label}`}
                onEdit={() => setOpen('film')}
                onRemoved={() => navigate({ to: '/series/$seriesId', params: { seriesId } })}
              />
            )}
          </Group>
          {open === 'film' ? (
            <FilmEditor view={view} film={film} onClose={close} />
          ) : (
            <>
              <Particulars
                entries={[
                  ['Substrate', `${substrate}${substrateLot ? `, lot ${substrateLot}` : ''}`],
                  ['Position', position],
                  [
                    'Thickness',
                    thicknessNm && `${uncertainText(thicknessNm.value, thicknessNm.standardUncertainty)} nm`,
                  ],
                  ['Deposition rate', rateText(film.body.depositionRateNmPerS)],
                  ['Conversion rate', rateText(film.body.conversionRateNmPerS)],
                  ['Overall rate', rateText(film.body.overallRateNmPerS)],
                ]}
                note={note}
              />
              <Revisions record={film} name={`Film ${label}`} />
            </>
          )}
        </Stack>
        <RunSection view={view} story={story} />
        <Stack gap="sm">
          <Title order={2}>Pieces</Title>
          {pieces.map((part) => (
            <PieceSection
              key={part.piece.id}
              view={view}
              part={part}
              cations={film.body.cations ?? story.target?.body.cations ?? null}
              best={best}
            />
          ))}
          {open === 'piece' ? (
            <PieceEditor
              view={view}
              filmId={film.id}
              piece={null}
              proposedLabel={
                pieceNames(
                  label,
                  1,
                  view.pieces.map(({ body }) => body.label),
                )[0]!
              }
              onClose={close}
            />
          ) : (
            <Group>
              <Button size="compact-sm" variant="light" onClick={() => setOpen('piece')}>
                Name a piece
              </Button>
            </Group>
          )}
        </Stack>
      </Stack>
    </>
  );
}

/** One film from its composition to its verdict. */
export function FilmPage() {
  const { seriesId, filmId } = useParams({ from: '/series/$seriesId/films/$filmId' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => {
        const story = filmStory(view, filmId);
        return story ? (
          <Story key={filmId} view={view} story={story} />
        ) : (
          <>
            <Question of={view.series.body.label}>
              What did we do to it, what is it, and does it pass?
            </Question>
            <Text>
              This series holds no such film, or it was removed. The history of the series brings removed
              films back.
            </Text>
          </>
        );
      }}
    </LoadedSeries>
  );
}
