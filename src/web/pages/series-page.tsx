import { Button, Grid, Group, Loader, Stack, Text, Title } from '@mantine/core';
import { Link, useNavigate, useParams } from '@tanstack/react-router';
import { memo, useDeferredValue, useMemo, useState } from 'react';
import type { CationRatio } from '../../records/common.ts';
import { filmRows } from '../../records/film-rows.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { CompositionPanel } from '../parts/composition-panel.tsx';
import { FilmTable } from '../parts/film-table.tsx';
import { GrowthControls, type TrianglePart } from '../parts/growth-controls.tsx';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { JudgeFilms } from '../parts/judge-films.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Proposals, proposalsOf } from '../parts/proposals.tsx';
import { Question } from '../parts/question.tsx';
import { SeriesAim } from '../parts/series-aim.tsx';
import { Triangle } from '../parts/triangle.tsx';
import { cationsWith, type GrowthCondition, heldBackFor } from '../reading.ts';
import { useSeriesView } from '../records.ts';

// What does not depend on the sliders stands still while they move, so that the triangle redraws at once.
const StillProposals = memo(Proposals);
const StillJudging = memo(JudgeFilms);
const StillTable = memo(FilmTable);
const StillAim = memo(SeriesAim);

function SeriesBoard({ view }: { view: SeriesView }) {
  const navigate = useNavigate();
  const series = view.series.body;
  const seriesId = view.series.id;
  const [rareEarth, setRareEarth] = useState(series.rareEarths[0]!);
  const rows = useMemo(() => filmRows(view), [view]);
  const [condition, setCondition] = useState<GrowthCondition>({ ...series.growth, heldBack: [] });
  const settled = useDeferredValue(condition);
  const [part, setPart] = useState<TrianglePart>('whole');
  const [selected, setSelected] = useState<CationRatio | null>(null);
  const { proposals } = proposalsOf(view);
  const changeRareEarth = (next: string) => {
    setRareEarth(next);
    setCondition({ ...condition, heldBack: heldBackFor(condition.heldBack, rareEarth, next) });
    setSelected(selected && cationsWith(selected, next));
  };
  return (
    <Stack gap="lg">
      <div>
        <Question
          of={
            <>
              {series.label}
              {series.aim ? `: ${series.aim}` : ''}
            </>
          }
          actions={
            <>
              <Button
                variant="light"
                renderRoot={(props) => (
                  <Link to="/series/$seriesId/record" params={{ seriesId }} {...props} />
                )}
              >
                Record a run
              </Button>
              <Button
                variant="light"
                renderRoot={(props) => <Link to="/series/$seriesId/files" params={{ seriesId }} {...props} />}
              >
                Read measurement files
              </Button>
            </>
          }
        >
          Where do liquid and 123 live together, what have we tried there, and what next?
        </Question>
        <InventedNotice isInvented={series.isInvented} />
      </div>
      <Grid gap="lg">
        <Grid.Col span={{ base: 12, md: 7 }}>
          <Triangle
            rareEarth={rareEarth}
            condition={condition}
            onCondition={setCondition}
            part={part}
            rows={rows}
            benchmarkPieceId={series.benchmarkPieceId}
            proposals={proposals}
            selected={selected}
            onSelect={setSelected}
            onFilm={(filmId) =>
              navigate({ to: '/series/$seriesId/films/$filmId', params: { seriesId, filmId } })
            }
          />
        </Grid.Col>
        <Grid.Col span={{ base: 12, md: 5 }}>
          <Stack>
            <GrowthControls
              condition={condition}
              onChange={setCondition}
              rareEarth={rareEarth}
              ownRareEarths={series.rareEarths}
              onRareEarth={changeRareEarth}
              part={part}
              onPartChange={setPart}
            />
            <CompositionPanel
              seriesId={seriesId}
              rareEarth={rareEarth}
              selected={selected}
              onSelect={setSelected}
              condition={condition}
            />
            {rareEarth === series.rareEarths[0] ? null : (
              <Text size="sm" role="status">
                Shown for {rareEarth}, not for the series' own {series.rareEarths.join(', ')}: films stand at
                their places, but were not made of it.
              </Text>
            )}
          </Stack>
        </Grid.Col>
      </Grid>
      <StillProposals view={view} onLook={setSelected} />
      <Stack gap="xs">
        <Group justify="space-between">
          <Title order={2}>Films, best first</Title>
          <StillJudging view={view} rows={rows} />
        </Group>
        <StillTable
          seriesId={seriesId}
          rows={rows}
          benchmarkPieceId={series.benchmarkPieceId}
          controlPieceId={series.controlPieceId}
          coil={series.coil}
        />
        {rows.length > 0 ? (
          <Text size="xs" c="dimmed">
            Order: passes, cannot say, falls short; inside each by Jc at the coil's condition, then at 77 K.
            After ± stands one standard uncertainty.
          </Text>
        ) : null}
      </Stack>
      <StillAim view={view} condition={settled} />
    </Stack>
  );
}

/** The middle of the program. */
export function SeriesPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId' });
  const { data, error, isPending } = useSeriesView(seriesId);
  if (isPending) {
    return (
      <Group>
        <Loader size="sm" /> <Text>Reading the series ...</Text>
      </Group>
    );
  }
  if (error) return <ProblemNotice error={error} />;
  return <SeriesBoard view={data} key={seriesId} />;
}
