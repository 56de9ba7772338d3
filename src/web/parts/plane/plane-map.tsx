import { Button, Checkbox, Group, NativeSelect, Progress, Stack, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { PlanePoint, PlaneRequest } from '../../../charts/plane/plane-request.ts';
import { planeScene } from '../../../charts/plane/plane-scene.ts';
import { pressureText, ratioText } from '../../../charts/trade-text.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { useStagedComputation } from '../../compute.ts';
import type { FilmPath } from '../../plane/film-paths.ts';
import { acrossOf, type PlaneSetting, type WindowAnswer, windowStages } from '../../plane/plane-setting.ts';
import { ownPoints, publishedLines, publishedPoints } from '../../plane/published.ts';
import { REACTIONS, reactionPhases } from '../../plane/reactions.ts';
import { readingFields, readingText } from '../../reading.ts';
import { Figure } from '../figure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';
import { TrustNotes } from '../trust-notes.tsx';
import { WindowWords } from './window-words.tsx';

interface UnivariantAnswer {
  temperatureC: number[];
  po2Atm: number[];
  temperatureCU: number[];
  stableOdds: number[];
  flags: { code: string; message: string }[];
}

interface PlaneMapProps {
  view: SeriesView;
  setting: PlaneSetting;
  path: FilmPath | null;
  selected: PlanePoint | null;
  onSelect: (place: PlanePoint) => void;
}

const PUBLISHED_LINES = publishedLines();
const PUBLISHED_POINTS = publishedPoints();
const REACTION_POINTS = 31;
/** Most members have the reaction stable. */
const MOSTLY = 0.5;
/** Below this share of the members an answer is a quick picture. */
const FINENESS_WORDS = ['quick picture from 6 members', 'from 20 members', 'all members'];

/** The path of a film as the map draws it. */
function pathOnPlane(path: FilmPath): NonNullable<PlaneRequest['path']> {
  const points: PlanePoint[] = [];
  const ends: (PlanePoint & { label: string })[] = [];
  let fromC = path.startC;
  path.segments.forEach(({ kind, toC, po2Atm }, i) => {
    if (po2Atm > 0) {
      points.push({ x: po2Atm, temperatureC: fromC }, { x: po2Atm, temperatureC: toC });
      ends.push({ x: po2Atm, temperatureC: toC, label: `end of step ${i + 1}, ${kind}` });
    } else points.push({ x: Number.NaN, temperatureC: Number.NaN });
    fromC = toC;
  });
  return { label: path.label, points, ends };
}

/** Odds over temperature and oxygen, or composition, with what is published laid over. */
export function PlaneMap({ view, setting, path, selected, onSelect }: PlaneMapProps) {
  const [hasBulk, setHasBulk] = useState(true);
  const [hasFilms, setHasFilms] = useState(true);
  const [hasOwn, setHasOwn] = useState(true);
  const [reactionId, setReactionId] = useState('');
  const stages = useMemo(() => windowStages(setting), [setting]);
  const { response, answered, stage, error, isRunning, progress, stop } = useStagedComputation<WindowAnswer>(
    'equilibrium.window',
    stages,
  );
  const isOxygen = setting.across === 'oxygen';
  const reaction = REACTIONS.find(({ id }) => id === reactionId);
  const line = useStagedComputation<UnivariantAnswer>(
    'equilibrium.univariant',
    reaction && isOxygen && stages
      ? [12, undefined].map((members) => ({
          phases: reactionPhases(reaction, setting.rareEarth),
          rareEarth: setting.rareEarth,
          po2Atm: [setting.fromAtm, setting.toAtm],
          points: REACTION_POINTS,
          ...(members ? { members } : {}),
          ...readingFields(setting),
        }))
      : null,
  );
  const reading = readingText(setting);
  // an answer over the other axis is not drawn on this one
  const asked = answered as { cationsTo?: unknown; po2Atm: number | number[] } | null;
  const fits = response !== null && asked !== null && Array.isArray(asked.po2Atm) === isOxygen;
  const scene = useMemo(() => {
    const shown = <Kind extends { kind: string }>(all: readonly Kind[]): Kind[] =>
      all.filter(({ kind }) => (kind === 'bulk' ? hasBulk : kind === 'film' ? hasFilms : hasOwn));
    return planeScene({
      title: `Odds of liquid with 123 at ${ratioText(setting.cations)}`,
      across: acrossOf(setting),
      temperatureC: [setting.fromC, setting.toC],
      caption: `${isOxygen ? '' : `pO₂ ${pressureText(setting.po2Atm)}; `}${reading}${fits ? `; ${FINENESS_WORDS[stage] ?? ''}` : ''}`,
      ...(fits && response
        ? {
            map: {
              x: isOxygen ? response.po2Atm : response.part,
              temperatureC: response.temperatureC,
              odds: response.oddsLiquidAnd123,
              of: 'liquid with 123',
              field: response.medianField,
              fieldNames: response.fieldNames,
              changes: response.changes,
            },
          }
        : {}),
      ...(isOxygen
        ? {
            lines: shown(PUBLISHED_LINES),
            points: shown([...PUBLISHED_POINTS, ...ownPoints(view.literaturePoints)]),
            ...(reaction && line.response
              ? {
                  reaction: {
                    label: reaction.label,
                    points: line.response.temperatureC.map((temperatureC, i) => ({
                      x: line.response!.po2Atm[i]!,
                      temperatureC,
                      temperatureCU: line.response!.temperatureCU[i]!,
                      isStable: line.response!.stableOdds[i]! >= MOSTLY,
                    })),
                  },
                }
              : {}),
            ...(path ? { path: pathOnPlane(path) } : {}),
          }
        : {}),
      selected,
    });
  }, [
    response,
    fits,
    stage,
    line.response,
    setting,
    isOxygen,
    reading,
    reaction,
    hasBulk,
    hasFilms,
    hasOwn,
    view.literaturePoints,
    path,
    selected,
  ]);
  const toggle = (label: string, checked: boolean, onChange: (is: boolean) => void) => (
    <Checkbox
      size="xs"
      label={label}
      checked={checked}
      disabled={!isOxygen}
      onChange={(event) => onChange(event.currentTarget.checked)}
    />
  );
  return (
    <Stack
      gap={6}
      component="section"
      aria-label="Map of temperature and oxygen"
      aria-busy={isRunning || line.isRunning || (stages !== null && !fits && error === null)}
    >
      <Group justify="space-between" gap="sm" align="flex-end">
        <Group gap="md">
          {toggle('published, bulk', hasBulk, setHasBulk)}
          {toggle('published, films', hasFilms, setHasFilms)}
          {toggle('added by you', hasOwn, setHasOwn)}
        </Group>
        <NativeSelect
          label="Line of a reaction"
          size="xs"
          w={230}
          disabled={!isOxygen}
          value={reactionId}
          data={[{ value: '', label: 'none' }, ...REACTIONS.map(({ id, label }) => ({ value: id, label }))]}
          onChange={(event) => setReactionId(event.currentTarget.value)}
        />
      </Group>
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
      <Figure
        scene={scene}
        onPointer={({ kind, x, y, markId }) => {
          if (kind !== 'down' || markId !== null) return;
          const place = scene.scales.placeAt(x, y);
          if (place) onSelect(place);
        }}
        onChoose={(markId) => {
          const point = [...PUBLISHED_POINTS, ...ownPoints(view.literaturePoints)].find(
            ({ id }) => id === markId,
          );
          if (point) onSelect({ x: point.x, temperatureC: point.temperatureC });
        }}
      />
      <ProblemNotice error={error ?? line.error} />
      {fits && response ? <WindowWords answer={response} setting={setting} /> : null}
      {fits && response ? (
        <TrustNotes
          remarks={[...response.flags, ...(isOxygen && reaction && line.response ? line.response.flags : [])]}
        />
      ) : null}
      <Text size="xs" c="dimmed">
        Heavy lines: liquid comes or goes in the median member; light lines: other fields change. Click for
        the phases at one place; a mark of a published line or point says its source.
      </Text>
    </Stack>
  );
}
