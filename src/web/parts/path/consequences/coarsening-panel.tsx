import { NativeSelect, Stack, Table, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { z } from 'zod';
import { curveScene } from '../../../../charts/curve-chart.ts';
import type { growthCoarsening } from '../../../../computations/growth/coarsening.ts';
import type { Stated } from '../../../../records/common.ts';
import { useComputation } from '../../../compute.ts';
import { quantityText, timeText } from '../../../drafts/answer-words.ts';
import {
  COARSENING_INPUTS,
  COARSENING_SPECS,
  coarseningAsk,
  type ParticleKind,
  WHAT_IF_INPUTS,
} from '../../../drafts/coarsening-ask.ts';
import { type FilmAlongPath, thinned } from '../../../drafts/film-along-path.ts';
import type { LiquidTime } from '../../../drafts/liquid-time.ts';
import type { InputTexts } from '../../../drafts/stated-inputs.ts';
import { Figure } from '../../figure.tsx';
import { InputFields } from './input-fields.tsx';
import { Panel, RestsOn } from './panel.tsx';
import { placedRefusal } from './placed-refusal.ts';

type Answer = z.infer<typeof growthCoarsening.response>;

const FORMULAS = [
  'r³ − r₀³ = K t with K = 8 γ D c Vm² / (9 R T), c in mol of solute a m³ of melt and Vm a mol of that solute [memory: Lifshitz and Slyozov 1961; Wagner 1961].',
  'r₀ = (3 f / (4π n))^(1/3): nuclei that share the volume [derived].',
  'It is the theory of few, far particles, limited by diffusion. Measured distributions in Ba-Cu-O melts are much wider than its own, so the largest particles exceed 1.5 times the mean.',
  'Interfacial energy, diffusivity and solubility of this system are orders from memory: where they are wrong, the answer is.',
];

const MOST_SAMPLES = 600;

interface CoarseningPanelProps {
  film: FilmAlongPath | null;
  /** null while it is not known */
  liquid: LiquidTime | null;
  thicknessNm: Stated | null;
}

/** How coarse the particles in the melt get while liquid is there, now and with finer nuclei. */
export function CoarseningPanel({ film, liquid, thicknessNm }: CoarseningPanelProps) {
  const [texts, setTexts] = useState<InputTexts>({});
  const [kind, setKind] = useState<ParticleKind>('211');
  const path = useMemo(() => film && thinned(film, MOST_SAMPLES), [film]);
  const there = liquid && liquid.liquidS.value > 0 ? liquid : null;
  const ask = useMemo(() => coarseningAsk(path, there, texts, kind), [path, there, texts, kind]);
  const computed = useComputation<Answer>('growth.coarsening', ask.request);
  const placed = placedRefusal(ask.request ? computed.error : null, COARSENING_SPECS, ask.faults);
  const answer = ask.request ? computed.response : null;
  const particle = kind === '211' ? '211' : 'RE₂O₃';
  const scene = useMemo(() => answer && radiusScene(answer, particle), [answer, particle]);
  const flags = [
    ...(answer?.flags ?? []),
    ...(answer && !ask.isDiffusionMoved
      ? [
          {
            code: 'DIFFUSIVITY_NOT_MOVED',
            message:
              'No activation energy of the diffusivity is stated: that of the temperature above is taken at every one, so coarsening at lower temperatures comes out too fast.',
          },
        ]
      : []),
  ];
  const fieldProps = { texts, faults: placed.faults, onChange: setTexts };
  return (
    <Panel
      question={`How coarse do ${particle} particles get?`}
      answer={
        answer &&
        there &&
        `From ${quantityText(answer.startRadiusNm, 'nm')} to ${quantityText(answer.finalRadiusNm, 'nm')} mean radius in ${timeText(there.liquidS)} with liquid.`
      }
      waiting={waitingFor(liquid, film)}
      run={computed}
      error={placed.error}
      inputs={
        <Stack gap="xs">
          <NativeSelect
            size="xs"
            label="Particles of"
            maw={260}
            value={kind}
            data={[
              { value: '211', label: '211, RE₂BaCuO₅' },
              { value: 'RE2O3', label: 'RE₂O₃' },
            ]}
            onChange={(event) => setKind(event.currentTarget.value as ParticleKind)}
          />
          <InputFields specs={WHAT_IF_INPUTS} {...fieldProps} />
          <InputFields specs={COARSENING_INPUTS} {...fieldProps} />
        </Stack>
      }
      restsOn={<RestsOn formulas={FORMULAS} flags={flags} specs={COARSENING_SPECS} />}
    >
      {answer ? <RadiusTable answer={answer} /> : null}
      {answer && thicknessNm && 2 * answer.finalRadiusNm!.value > thicknessNm.value ? (
        <Text size="sm">
          Particles of that radius would be wider than the film is thick: the film stops them before.
        </Text>
      ) : null}
      {scene ? <Figure scene={scene} /> : null}
    </Panel>
  );
}

function waitingFor(liquid: LiquidTime | null, film: FilmAlongPath | null): string {
  if (!film) return 'The radius stands here once the path is known.';
  if (!liquid) return 'The radius stands here once it is known when liquid is there.';
  return liquid.liquidS.value > 0
    ? 'The radius stands here once the fields can be read.'
    : 'There is no liquid along this path, so nothing coarsens in it.';
}

function RadiusTable({ answer }: { answer: Answer }) {
  const rows = [
    { name: 'as it is', ...answer, ofFinal: null },
    ...answer.whatIf.map((row) => ({ ...row, name: `if ${row.name}` })),
  ];
  return (
    <Table.ScrollContainer minWidth={380}>
      <Table aria-label="Mean radius now and with finer nuclei" verticalSpacing={4} fz="sm">
        <Table.Thead>
          <Table.Tr>
            <Table.Th>Mean radius</Table.Th>
            <Table.Th ta="right">at the start, nm</Table.Th>
            <Table.Th ta="right">at the end, nm</Table.Th>
            <Table.Th ta="right">of that as it is</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {rows.map(({ name, startRadiusNm, finalRadiusNm, ofFinal }) => (
            <Table.Tr key={name}>
              <Table.Th fw={500}>{name}</Table.Th>
              <Table.Td ta="right" className="number">
                {quantityText(startRadiusNm, '')}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {quantityText(finalRadiusNm, '')}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {ofFinal ? quantityText(ofFinal, '') : '1'}
              </Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

function radiusScene({ timeS, radiusNm, radiusNmU }: Answer, particle: string) {
  const time = Array.from(timeS);
  const [radius, doubt] = [Array.from(radiusNm), Array.from(radiusNmU)];
  return curveScene({
    title: `Mean radius of ${particle} along the path`,
    x: { label: 'Time', unit: 's' },
    y: { label: 'Mean radius', unit: 'nm' },
    series: [{ id: 'radius', label: 'mean radius', look: 'line', x: time, y: radius }],
    bands: [
      {
        label: 'one standard uncertainty',
        x: time,
        lower: radius.map((each, i) => Math.max(0, each - doubt[i]!)),
        upper: radius.map((each, i) => each + doubt[i]!),
      },
    ],
    size: { width: 560, height: 260 },
  });
}
