import { Group, Stack, Text, Title } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { CationRatio, Stated } from '../../../../records/common.ts';
import type { PathPlan } from '../../../../records/kinds.ts';
import type { SeriesView } from '../../../../records/series-view.ts';
import { timeText } from '../../../drafts/answer-words.ts';
import type { FilmAlongPath } from '../../../drafts/film-along-path.ts';
import { type LiquidTime, liquidAbove, liquidByPhases } from '../../../drafts/liquid-time.ts';
import type { AskedLiquid } from '../../../path/path-liquid.ts';
import { type Reading, readingText } from '../../../reading.ts';
import { LimitedNumber } from '../../limited-number.tsx';
import { DepositionPanel } from '../deposition/deposition-panel.tsx';
import { CoarseningPanel } from './coarsening-panel.tsx';
import { CrackingPanel } from './cracking-panel.tsx';
import { EvaporationPanel } from './evaporation-panel.tsx';
import { LimitPanel } from './limit-panel.tsx';
import { OxygenationPanel } from './oxygenation-panel.tsx';

interface ConsequencesProps {
  start: { temperatureC: number; po2Atm: number };
  segments: PathPlan['segments'];
  /** likely path at the film; null while it is not known */
  film: { timeS: number[]; temperatureC: number[]; log10Po2Atm: number[] } | null;
  /** liquid along it in the reading */
  asked: AskedLiquid;
  cations: CationRatio;
  rareEarth: string;
  thicknessNm: Stated | null;
  substrate: string;
  reading: Reading;
  view: SeriesView;
}

/** What a path does to a film: losses, coarsening, supply, oxygen, cracks, and what a deposition in it needs. */
export function Consequences(props: ConsequencesProps) {
  const { start, segments, asked, cations, rareEarth, thicknessNm, substrate, reading, view } = props;
  const film = useUsableFilm(props.film);
  const [aboveC, setAboveC] = useState<number | null>(null);
  const liquid = useMemo(
    () => (film && aboveC !== null ? liquidAbove(film, aboveC) : liquidByPhases(asked.liquid)),
    [film, aboveC, asked.liquid],
  );
  return (
    <Stack gap="md" component="section" aria-label="What the path does to the film">
      <Title order={2}>What does the path do to the film?</Title>
      <LiquidLine
        liquid={liquid}
        isAsked={asked.error === null}
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
  liquid: LiquidTime | null;
  isAsked: boolean;
  reading: Reading;
  aboveC: number | null;
  onAboveC: (aboveC: number | null) => void;
}

/** How long liquid is there, which coarsening and growth rest on; and the way to say it oneself. */
function LiquidLine({ liquid, isAsked, reading, aboveC, onAboveC }: LiquidLineProps) {
  const said = !liquid
    ? isAsked
      ? 'Asking where liquid is there along the path ...'
      : 'When liquid is there is not known; say above which temperature it is.'
    : liquid.liquidS.value > 0
      ? `Liquid is there for ${timeText(liquid.liquidS)}, ${liquid.by}.`
      : `No liquid along this path, ${liquid.by}.`;
  return (
    <Group justify="space-between" align="flex-end" gap="md">
      <Text size="sm" role="status" style={{ flex: '1 1 18rem' }}>
        {said}
        {aboveC === null && liquid ? ` Read as ${readingText(reading)}.` : ''}
      </Text>
      <LimitedNumber
        label="Or take liquid as there above, °C"
        placeholder="as the phases say"
        w={260}
        value={aboveC ?? ''}
        limits={{ min: 25, max: 1400, unit: '°C' }}
        onChange={(value) => onAboveC(value ?? null)}
      />
    </Group>
  );
}
