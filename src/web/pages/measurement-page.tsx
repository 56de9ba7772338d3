import { Alert, Anchor, Button, Grid, Group, Loader, Stack, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { Link, useParams } from '@tanstack/react-router';
import { Component, type ReactNode } from 'react';
import type { MeasurementView } from '../../api/contract.ts';
import { resultRows } from '../../charts/measurement/results.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { measurementView, versionsNow } from '../imports.ts';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { LogDeviations } from '../parts/log-deviations.tsx';
import { MeasuredFigures } from '../parts/measured-figures.tsx';
import { MeasurementOrigin, ReductionSettings } from '../parts/measurement-origin.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { ResultTable } from '../parts/result-table.tsx';
import { ScanTables } from '../parts/scan-tables.tsx';
import type { ScanAnswer } from '../scan-answer.ts';

/** Yellow letters on yellow are too pale to read. */
const READABLE_TITLE = { title: { color: 'var(--mantine-color-text)' } };

interface BoardProps {
  series: SeriesView;
  view: MeasurementView;
}

/** An answer stored by other science may lack what a page of today draws: then this is said, and the rest still stands. */
class OldAnswerGuard extends Component<{ children: ReactNode }, { isBroken: boolean }> {
  override state = { isBroken: false };

  static getDerivedStateFromError(): { isBroken: boolean } {
    return { isBroken: true };
  }

  override render(): ReactNode {
    return this.state.isBroken ? (
      <Alert
        color="yellow"
        styles={READABLE_TITLE}
        title="The stored answer cannot be shown by this version."
      >
        Reduce it again below; the stored answer stays in the history.
      </Alert>
    ) : (
      this.props.children
    );
  }
}

function MeasurementBoard({ series, view }: BoardProps) {
  const { body } = view.measurement;
  const analysis = view.analysis?.body ?? null;
  const versions = useQuery({ queryKey: ['versions'], queryFn: versionsNow });
  const piece = series.pieces.find(({ id }) => id === body.pieceId);
  const film = series.films.find(({ id }) => id === piece?.body.filmId);
  const treatment = series.treatments.find(({ id }) => id === body.stateTreatmentId);
  const seriesId = series.series.id;
  const versionNow = analysis ? versions.data?.get(analysis.computation) : undefined;
  const flags = (analysis?.response as { flags?: { code: string; message: string }[] } | null)?.flags ?? [];
  const answered = analysis && !analysis.failure ? analysis : null;
  return (
    <Stack gap="lg">
      <div>
        <Question
          of={
            <>
              {body.label}: {body.mapping.kind} of{' '}
              {film ? (
                <Anchor
                  renderRoot={(props) => (
                    <Link
                      to="/series/$seriesId/films/$filmId"
                      params={{ seriesId, filmId: film.id }}
                      {...props}
                    />
                  )}
                >
                  {piece?.body.label}
                </Anchor>
              ) : (
                'a piece that was removed'
              )}
              , {treatment ? `after ${treatment.body.label}` : 'as grown'}
            </>
          }
          actions={
            film ? (
              <Button
                variant="light"
                renderRoot={(props) => (
                  <Link
                    to="/series/$seriesId/films/$filmId"
                    params={{ seriesId, filmId: film.id }}
                    {...props}
                  />
                )}
              >
                To film {film.body.label}
              </Button>
            ) : null
          }
        >
          What does this curve say?
        </Question>
        <InventedNotice isInvented={series.series.body.isInvented} />
      </div>
      {view.isStale && analysis ? (
        <Alert
          color="yellow"
          styles={READABLE_TITLE}
          title="These numbers are old: the science, the film or the piece has changed since."
        >
          {versionNow !== undefined && versionNow !== analysis.version
            ? `Made with version ${analysis.version} of ${analysis.computation}, which is version ${versionNow} now. `
            : ''}
          Reduce it again below to see what the curve says today; the old answer stays in the history.
        </Alert>
      ) : null}
      {analysis?.failure ? (
        <Alert color="red" variant="light" title={analysis.failure.message}>
          The curve is kept as it was read.
        </Alert>
      ) : null}
      {answered && body.mapping.kind === 'chamber log' ? (
        <OldAnswerGuard key={view.analysis?.id}>
          <LogDeviations response={answered.response} />
        </OldAnswerGuard>
      ) : null}
      <Grid gap="lg">
        <Grid.Col span={{ base: 12, lg: 8 }}>
          <OldAnswerGuard key={view.analysis?.id}>
            <MeasuredFigures view={view} />
          </OldAnswerGuard>
        </Grid.Col>
        <Grid.Col span={{ base: 12, lg: 4 }}>
          <OldAnswerGuard key={view.analysis?.id}>
            <ResultTable
              rows={answered ? resultRows(body.mapping.kind, answered.response) : []}
              flags={flags}
            />
          </OldAnswerGuard>
        </Grid.Col>
      </Grid>
      {answered && body.mapping.kind === 'diffraction scan' ? (
        <OldAnswerGuard key={view.analysis?.id}>
          <ScanTables answer={answered.response as ScanAnswer} />
        </OldAnswerGuard>
      ) : null}
      <Grid gap="lg">
        <Grid.Col span={{ base: 12, lg: 5 }}>
          <ReductionSettings key={view.measurement.revision} view={view} />
        </Grid.Col>
        <Grid.Col span={{ base: 12, lg: 7 }}>
          <MeasurementOrigin view={view} versionNow={versionNow} />
        </Grid.Col>
      </Grid>
    </Stack>
  );
}

/** One measured curve, what was read from it, and where it came from. */
export function MeasurementPage() {
  const { seriesId, measurementId } = useParams({ from: '/series/$seriesId/measurements/$measurementId' });
  const { data, error } = useQuery({
    queryKey: ['measurement', measurementId],
    queryFn: () => measurementView(measurementId),
  });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(series) =>
        error ? (
          <ProblemNotice error={error} />
        ) : data ? (
          <MeasurementBoard series={series} view={data} key={measurementId} />
        ) : (
          <Group>
            <Loader size="sm" /> <Text>Reading the curve ...</Text>
          </Group>
        )
      }
    </LoadedSeries>
  );
}
