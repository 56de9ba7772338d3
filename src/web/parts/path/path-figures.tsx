import { Button, Group, Progress, Stack, Text } from '@mantine/core';
import { useMemo } from 'react';
import { pathOnPlane } from '../../../charts/path/path-on-plane.ts';
import type { PathCourse, PathTimeRequest } from '../../../charts/path/path-time-request.ts';
import { pathTimeScene } from '../../../charts/path/path-time-scene.ts';
import { planeScene } from '../../../charts/plane/plane-scene.ts';
import { ratioText } from '../../../charts/trade-text.ts';
import type { CationRatio } from '../../../records/common.ts';
import { useStagedComputation } from '../../compute.ts';
import { mapRange } from '../../path/map-range.ts';
import type { PathAnswer } from '../../path/path-request.ts';
import { acrossOf, type PlaneSetting, type WindowAnswer, windowStages } from '../../plane/plane-setting.ts';
import { type Reading, readingText } from '../../reading.ts';
import { Disclosure } from '../disclosure.tsx';
import { Figure } from '../figure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';
import { TrustNotes } from '../trust-notes.tsx';
import type { ReadLiquid } from './path-answer.tsx';

export const commandOf = ({ timeS, temperatureC, log10Po2Atm }: PathAnswer): PathCourse => ({
  timeS,
  temperatureC,
  log10Po2Atm,
});
const filmOf = ({ timeS, filmTemperatureC, filmLog10Po2Atm }: PathAnswer): PathCourse => ({
  timeS,
  temperatureC: filmTemperatureC,
  log10Po2Atm: filmLog10Po2Atm,
});

interface TimeFigureProps {
  title: string;
  answer: PathAnswer;
  hasChamber: boolean;
  /** the reading whose liquid is shaded */
  shown: ReadLiquid | null;
  log: PathTimeRequest['log'];
}

/** The path over time. */
export function PathTimeFigure({ title, answer, hasChamber, shown, log }: TimeFigureProps) {
  const spans = shown?.liquid?.spans;
  const words = shown ? readingText(shown.reading) : '';
  const scene = useMemo(
    () =>
      pathTimeScene({
        title,
        command: commandOf(answer),
        film: hasChamber ? filmOf(answer) : null,
        segments: answer.segments,
        ...(spans ? { liquid: { label: 'liquid is likely', spans } } : {}),
        log: log ?? null,
        ...(spans ? { caption: `Liquid read as ${words}` } : {}),
      }),
    [title, answer, hasChamber, spans, words, log],
  );
  return (
    <section aria-label="The path over time">
      <Figure scene={scene} />
    </section>
  );
}

interface PathMapProps {
  title: string;
  answer: PathAnswer;
  hasChamber: boolean;
  cations: CationRatio;
  rareEarth: string;
  reading: Reading;
  log: PathTimeRequest['log'];
}

const FINENESS_WORDS = ['quick picture from 6 members', 'from 20 members', 'all members'];

/** The same path over temperature and oxygen, on the odds of liquid with 123. */
export function PathMap({ title, answer, hasChamber, cations, rareEarth, reading, log }: PathMapProps) {
  const rangeKey = JSON.stringify(mapRange(answer));
  const setting = useMemo(
    (): PlaneSetting => ({
      rareEarth,
      cations,
      across: 'oxygen',
      cationsTo: cations,
      po2Atm: 1,
      ...(JSON.parse(rangeKey) as ReturnType<typeof mapRange>),
      ...reading,
    }),
    [rareEarth, cations, rangeKey, reading],
  );
  const stages = useMemo(() => windowStages(setting), [setting]);
  const { response, stage, error, isRunning, progress, stop } = useStagedComputation<WindowAnswer>(
    'equilibrium.window',
    stages,
  );
  const scene = useMemo(
    () =>
      planeScene({
        title: `${title} over temperature and oxygen, on the odds of liquid with 123 at ${ratioText(cations)}`,
        across: acrossOf(setting),
        temperatureC: [setting.fromC, setting.toC],
        caption: `${readingText(setting)}${response ? `; ${FINENESS_WORDS[stage] ?? ''}` : ''}`,
        ...(response
          ? {
              map: {
                x: response.po2Atm,
                temperatureC: response.temperatureC,
                odds: response.oddsLiquidAnd123,
                of: 'liquid with 123',
                field: response.medianField,
                fieldNames: response.fieldNames,
                changes: response.changes,
              },
            }
          : {}),
        path: pathOnPlane({
          label: hasChamber ? 'likely path at the film' : 'path',
          command: commandOf(answer),
          film: hasChamber ? filmOf(answer) : null,
          log: log ?? null,
          segments: answer.segments,
        }),
        size: { width: 760, height: 560 },
      }),
    [title, cations, setting, response, stage, answer, hasChamber, log],
  );
  return (
    <Stack
      gap={6}
      component="section"
      aria-label="The path over temperature and oxygen"
      aria-busy={isRunning || (response === null && error === null)}
    >
      <Group gap="xs" wrap="nowrap" mih={24}>
        <Progress
          value={isRunning ? progress * 100 : 100}
          size={3}
          aria-label="Computing the map"
          style={{ opacity: isRunning ? 1 : 0, flex: 1 }}
        />
        {isRunning && stage >= 0 ? (
          <Button size="compact-xs" variant="subtle" color="gray" onClick={stop}>
            Stop refining
          </Button>
        ) : null}
      </Group>
      <Figure scene={scene} />
      <ProblemNotice error={error} />
      <Text size="xs" c="dimmed">
        Numbers: where each step ends. Heavy lines: liquid comes or goes in the median member. What is colder
        than the map is not drawn.
      </Text>
      {response ? (
        <Disclosure title="How far the map may be trusted">
          <TrustNotes remarks={response.flags} />
        </Disclosure>
      ) : null}
    </Stack>
  );
}
