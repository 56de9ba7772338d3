import { Button, Group, Paper, Stack, Text, Title } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { CationRatio, Stated } from '../../../../records/common.ts';
import type { PathPlan } from '../../../../records/kinds.ts';
import type { SeriesView } from '../../../../records/series-view.ts';
import { timeText } from '../../../drafts/answer-words.ts';
import { type FilmAlongPath, lengthS } from '../../../drafts/film-along-path.ts';
import { type Reading, readingText } from '../../../reading.ts';
import { LimitedNumber } from '../../limited-number.tsx';
import { ProblemNotice } from '../../problem-notice.tsx';
import { DepositionPanel } from '../deposition/deposition-panel.tsx';
import { CoarseningPanel } from './coarsening-panel.tsx';
import { CrackingPanel } from './cracking-panel.tsx';
import { EvaporationPanel } from './evaporation-panel.tsx';
import { LimitPanel } from './limit-panel.tsx';
import { OxygenationPanel } from './oxygenation-panel.tsx';
import { RunningLine } from './panel.tsx';
import { type LiquidTime, useLiquid } from './use-liquid.ts';

interface ConsequencesProps {
  start: { temperatureC: number; po2Atm: number };
  segments: PathPlan['segments'];
  /** likely path at the film; null while it is not known */
  film: { timeS: number[]; temperatureC: number[]; log10Po2Atm: number[] } | null;
  cations: CationRatio;
  rareEarth: string;
  thicknessNm: Stated | null;
  substrate: string;
  reading: Reading;
  view: SeriesView;
}

/** What a path does to a film: losses, coarsening, supply, oxygen, cracks, and what a deposition in it needs. */
export function Consequences(props: ConsequencesProps) {
  const { start, segments, cations, rareEarth, thicknessNm, substrate, reading, view } = props;
  const film = useUsableFilm(props.film);
  const [aboveC, setAboveC] = useState<number | null>(null);
  const liquid = useLiquid(film, cations, reading, aboveC);
  return (
    <Stack gap="md" component="section" aria-label="What the path does to the film">
      <Title order={2}>What does the path do to the film?</Title>
      <LiquidLine
        liquid={liquid}
        isKnown={film !== null}
        reading={reading}
        aboveC={aboveC}
        onAboveC={setAboveC}
      />
      {segments.some(({ kind }) => kind === 'deposit') ? (
        <DepositionPanel view={view} thicknessNm={thicknessNm} cations={cations} />
      ) : null}
      <EvaporationPanel
        film={film}
        cations={cations}
        rareEarth={rareEarth}
        thicknessNm={thicknessNm}
        view={view}
      />
      <CoarseningPanel film={film} liquid={liquid} thicknessNm={thicknessNm} />
      <LimitPanel film={film} liquid={liquid} start={start} segments={segments} thicknessNm={thicknessNm} />
      <OxygenationPanel film={film} rareEarth={rareEarth} thicknessNm={thicknessNm} />
      <CrackingPanel film={film} thicknessNm={thicknessNm} substrate={substrate} />
    </Stack>
  );
}

/** The same path by content, so that nothing is asked again when only the object is new; null where it is no path. */
function useUsableFilm(film: FilmAlongPath | null): FilmAlongPath | null {
  const key = JSON.stringify(film);
  return useMemo(() => {
    const read = JSON.parse(key) as FilmAlongPath | null;
    return read && read.timeS.length > 1 ? read : null;
  }, [key]);
}

interface LiquidLineProps {
  liquid: LiquidTime;
  isKnown: boolean;
  reading: Reading;
  aboveC: number | null;
  onAboveC: (aboveC: number | null) => void;
}

/** How long liquid is there, which coarsening and growth rest on; and the way to say it oneself. */
function LiquidLine({ liquid, isKnown, reading, aboveC, onAboveC }: LiquidLineProps) {
  const { intervals, isStopped } = liquid;
  const heldS = intervals ? lengthS(intervals) : null;
  return (
    <Paper withBorder p="sm">
      <Stack gap="xs">
        <RunningLine run={liquid} of="Asking where liquid is there along the path" />
        <ProblemNotice error={liquid.error} />
        <Group justify="space-between" align="flex-end" gap="md">
          <Text size="sm" role="status" style={{ flex: '1 1 18rem' }}>
            {liquidSentence(liquid, heldS, isKnown)}
            {aboveC === null && heldS !== null ? ` Read as ${readingText(reading)}.` : ''}
          </Text>
          <LimitedNumber
            label="Or take liquid as there above, °C"
            placeholder="as the phases say"
            w={230}
            value={aboveC ?? ''}
            limits={{ min: 25, max: 1400, unit: '°C' }}
            onChange={(value) => onAboveC(value ?? null)}
          />
          {isStopped ? (
            <Button size="compact-sm" variant="default" onClick={liquid.askAgain}>
              Ask the phases again
            </Button>
          ) : null}
        </Group>
      </Stack>
    </Paper>
  );
}

function liquidSentence(
  { isStopped, error, by, isRunning }: LiquidTime,
  heldS: number | null,
  isKnown: boolean,
) {
  if (!isKnown) return 'The path at the film is not known yet.';
  if (heldS !== null)
    return heldS > 0
      ? `Liquid is taken as there for ${timeText({ value: heldS, standardUncertainty: 0 })} of the path, while ${by}.`
      : `Liquid is not there along this path: at no time ${by.replace('its odds are', 'are its odds').replace('the film is', 'is the film')}.`;
  if (isStopped) return 'Asking the phases was stopped; say above which temperature liquid is there.';
  if (error) return 'The phases could not be asked; say above which temperature liquid is there.';
  return isRunning ? 'Asking where liquid is there along the path ...' : '';
}
