import { Button, Group, Progress, Stack, Text } from '@mantine/core';
import { useMemo } from 'react';
import { type FieldsAnswer, fieldsOnTriangle } from '../../charts/ternary/fields-on-triangle.ts';
import { triangleScene } from '../../charts/ternary/triangle-scene.ts';
import { type TriangleWindow, WHOLE_TRIANGLE } from '../../charts/ternary/triangle-view.ts';
import { pressureText, ratioText } from '../../charts/trade-text.ts';
import type { CationRatio } from '../../records/common.ts';
import type { FilmRow } from '../../records/film-rows.ts';
import { placeInTriangle } from '../../science/matter/cation-ratios.ts';
import { useStagedComputation } from '../compute.ts';
import {
  EQUILIBRIUM,
  type GrowthCondition,
  isEquilibrium,
  type Reading,
  readingFields,
  readingText,
} from '../reading.ts';
import { Figure } from './figure.tsx';
import type { TrianglePart } from './growth-controls.tsx';
import { ProblemNotice } from './problem-notice.tsx';
import type { Proposal } from './proposals.tsx';
import { RegionAnswer } from './region-answer.tsx';
import { TrustNotes } from './trust-notes.tsx';

interface TriangleProps {
  rareEarth: string;
  condition: GrowthCondition;
  onCondition: (condition: GrowthCondition) => void;
  part: TrianglePart;
  rows: readonly FilmRow[];
  benchmarkPieceId: string | null;
  proposals: readonly Proposal[];
  selected: CationRatio | null;
  onSelect: (cations: CationRatio) => void;
  onFilm: (filmId: string) => void;
}

/** The melt holds few per cent of RE, so the strip stretches RE against Cu. */
const STRIP = { reMin: 0, reMax: 0.1, cuMin: 0.4, cuMax: 1 };
const STRIP_WINDOW: TriangleWindow = { kind: 'strip', ...STRIP };

/** What is drawn while a slider moves, and once it rests: all members. */
const STAGES = [{ divisions: 30, members: 3 }, { divisions: 60 }];
/** Of equilibrium beside another reading only the words are shown, once the slider rests: the first stage is next to nothing. */
const BULK_STAGES = [{ divisions: 2, members: 1 }, { divisions: 40 }];

interface FieldsRequest {
  temperatureC: number;
  po2Atm: number;
  members?: number;
}

/** The triangle of the series: odds behind, films and proposals on it, one click a composition. */
export function Triangle(props: TriangleProps) {
  const { rareEarth, condition, onCondition, part, rows, proposals, selected, benchmarkPieceId } = props;
  const { temperatureC, po2Atm } = condition;
  const region =
    part === 'copper-rich' ? { region: { cuMin: STRIP.cuMin, cuMax: STRIP.cuMax, reMax: STRIP.reMax } } : {};
  const stagesOf = (reading: Reading, stages: readonly object[]): object[] =>
    stages.map((fineness) => ({
      rareEarth,
      temperatureC,
      po2Atm,
      ...fineness,
      ...readingFields(reading),
      ...region,
    }));
  const computed = useStagedComputation<FieldsAnswer>('equilibrium.fields', stagesOf(condition, STAGES));
  const isMoved = !isEquilibrium(condition);
  const bulk = useStagedComputation<FieldsAnswer>(
    'equilibrium.fields',
    isMoved ? stagesOf(EQUILIBRIUM, BULK_STAGES) : null,
  );
  const { response, error, isRunning, progress, stop } = computed;
  const answered = computed.answered as FieldsRequest | null;
  const reading = readingText(condition);
  const scene = useMemo(() => {
    const films = rows.flatMap((row) => {
      const at = placeInTriangle(row.cations);
      if (!at) return [];
      return [
        {
          id: row.film.id,
          label: row.film.body.label,
          at,
          verdict: row.outcome,
          isBenchmark: row.states.some((state) => state.piece.id === benchmarkPieceId),
        },
      ];
    });
    const drawn = response && answered ? answered : { temperatureC, po2Atm };
    return triangleScene({
      title: `Odds of liquid with 123, ${rareEarth}-Ba-Cu`,
      rareEarth,
      window: part === 'whole' ? WHOLE_TRIANGLE : STRIP_WINDOW,
      size: { width: 760, height: 660 },
      caption: `${drawn.temperatureC} °C, pO₂ ${pressureText(drawn.po2Atm)}; ${reading}${answered?.members ? ` (quick picture from ${answered.members} members)` : ''}`,
      ...(response ? fieldsOnTriangle(response) : {}),
      films,
      proposals: proposals.map((proposal, i) => ({
        id: `proposal-${i + 1}`,
        label: ratioText(proposal.cations),
        at: proposal,
      })),
      selected: placeInTriangle(selected),
    });
  }, [
    response,
    answered,
    rows,
    proposals,
    selected,
    part,
    rareEarth,
    temperatureC,
    po2Atm,
    reading,
    benchmarkPieceId,
  ]);
  const select = (x: number, y: number) => {
    const { re, ba, cu } = scene.scales.invert(x, y);
    const inside = [re, ba, cu].every((share) => share > -0.005);
    if (!inside) return;
    const rounded = (share: number) => Number(Math.max(0, share * 100).toFixed(part === 'whole' ? 1 : 2));
    props.onSelect({ [rareEarth]: rounded(re), Ba: rounded(ba), Cu: rounded(cu) });
  };
  return (
    <Stack
      gap={4}
      component="section"
      aria-label="Triangle of compositions"
      aria-busy={isRunning || (response === null && error === null)}
    >
      <Progress
        value={isRunning ? progress * 100 : 100}
        size={3}
        aria-label="Computing the odds"
        style={{ opacity: isRunning ? 1 : 0 }}
      />
      <Figure
        scene={scene}
        onPointer={({ kind, x, y, markId }) => {
          if (kind === 'down' && markId === null) select(x, y);
        }}
        onChoose={(markId) => {
          const chosen = proposals[Number(markId.replace('proposal-', '')) - 1];
          if (markId.startsWith('proposal-') && chosen) props.onSelect(chosen.cations);
          else props.onFilm(markId);
        }}
      />
      <ProblemNotice error={error} />
      {response ? (
        <RegionAnswer
          answer={response}
          bulk={isMoved && bulk.stage > 0 ? bulk.response : null}
          rareEarth={rareEarth}
          condition={condition}
          onCondition={onCondition}
          of={part === 'whole' ? 'the triangle' : 'this strip'}
          region={region}
        />
      ) : null}
      <Group gap="xs" mih={22}>
        <Text size="xs" c="dimmed">
          Shading: share of the members of the published ensemble that have liquid with 123. Dotted: tie
          triangles; full lines: the melt's own edge; both of the median member.
        </Text>
        {isRunning && computed.stage >= 0 && progress > 0 ? (
          <Button size="compact-xs" variant="subtle" color="gray" onClick={stop}>
            Stop refining
          </Button>
        ) : null}
      </Group>
      {response ? <TrustNotes remarks={response.flags} /> : null}
    </Stack>
  );
}
