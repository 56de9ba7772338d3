import { List, Progress, SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { useMemo } from 'react';
import { curveScene } from '../../../charts/curve-chart.ts';
import type { CationRatio } from '../../../records/common.ts';
import { LIKELY } from '../../../science/growth/path-liquid.ts';
import { usePathLiquid } from '../../path/path-liquid.ts';
import type { FilmPath } from '../../plane/film-paths.ts';
import { askedPlaces, isOnePlace, pathSentences, recordedAsk } from '../../plane/path-sentences.ts';
import { EQUILIBRIUM, isEquilibrium, type Reading, readingText } from '../../reading.ts';
import { Figure } from '../figure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';

const LONG_S = 3 * 3600;

interface PathReadingProps {
  path: FilmPath;
  cations: CationRatio;
  reading: Reading;
}

/** One reading of a path: in words, and the odds against time. */
function PathReading({ path, cations, reading }: PathReadingProps) {
  const { segments, startC, label } = path;
  const { request, stepOf } = useMemo(() => recordedAsk(segments, startC), [segments, startC]);
  const asked = usePathLiquid(request, cations, reading);
  const words = readingText(reading);
  const { liquid } = asked;
  const places = useMemo(() => liquid && askedPlaces(liquid, stepOf), [liquid, stepOf]);
  const scene = useMemo(() => {
    if (!liquid || !places || places.length < 2 || places.at(-1)!.timeS <= places[0]!.timeS) return null;
    if (isOnePlace(segments)) return null;
    const isLong = places.at(-1)!.timeS > LONG_S;
    const time = places.map(({ timeS }) => timeS / (isLong ? 3600 : 60));
    const starts = places.filter((place, i) => i > 0 && place.segment !== places[i - 1]!.segment);
    return curveScene({
      title: `Liquid along ${label}, read as ${words}`,
      x: { label: 'Time', unit: isLong ? 'h' : 'min' },
      y: { label: 'Odds, share', unit: '', domain: [0, 1.02] },
      series: [
        { id: 'liquid', label: 'odds of liquid', look: 'line', x: time, y: liquid.odds },
        { id: 'both', label: 'odds of liquid with 123', look: 'line', x: time, y: liquid.oddsWith123 },
        { id: 'share', label: 'liquid, share of the cations', look: 'line', x: time, y: liquid.share },
      ],
      levels: [{ y: LIKELY, label: 'even odds' }],
      verticals: starts.map(({ segment, timeS }) => ({
        x: timeS / (isLong ? 3600 : 60),
        label: `step ${segment + 1}`,
      })),
      size: { width: 720, height: 300 },
    });
  }, [liquid, places, segments, label, words]);
  return (
    <Stack gap={4} aria-busy={liquid === null && asked.error === null}>
      <Text size="sm" fw={600}>
        Read as {words}
      </Text>
      {asked.isRunning ? (
        <Progress value={asked.progress * 100} size={3} aria-label="Asking along the path" />
      ) : null}
      <ProblemNotice error={asked.error} />
      {liquid && places ? (
        <List size="sm">
          {pathSentences(places, liquid.odds, segments).map((sentence) => (
            <List.Item key={sentence}>{sentence}</List.Item>
          ))}
        </List>
      ) : null}
      {scene ? <Figure scene={scene} /> : null}
    </Stack>
  );
}

interface PathLiquidProps {
  path: FilmPath;
  /** of the map, for a film whose own are not known */
  cations: CationRatio;
  reading: Reading;
}

/** When liquid appears and vanishes along a film's path, in both readings where they differ. */
export function PathLiquid({ path, cations, reading }: PathLiquidProps) {
  const own = path.cations ?? cations;
  const readings = isEquilibrium(reading) ? [EQUILIBRIUM] : [EQUILIBRIUM, reading];
  return (
    <Stack gap="sm" component="section" aria-label="Liquid along the path">
      <Title order={2}>Along {path.label}</Title>
      {path.cations ? null : (
        <Text size="sm" c="dimmed">
          The film's own cations are not recorded: asked with those of the map.
        </Text>
      )}
      <SimpleGrid cols={{ base: 1, lg: readings.length }} spacing="lg">
        {readings.map((each) => (
          <PathReading key={readingText(each)} path={path} cations={own} reading={each} />
        ))}
      </SimpleGrid>
    </Stack>
  );
}
