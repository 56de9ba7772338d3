import { Table } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { z } from 'zod';
import { curveScene } from '../../../../charts/curve-chart.ts';
import { shortNumber } from '../../../../charts/number-text.ts';
import type { growthOxygenation } from '../../../../computations/growth/oxygenation.ts';
import type { Stated } from '../../../../records/common.ts';
import { useComputation } from '../../../compute.ts';
import { quantityText, shareText, timeText } from '../../../drafts/answer-words.ts';
import type { FilmAlongPath } from '../../../drafts/film-along-path.ts';
import { OXYGENATION_INPUTS, oxygenationAsk } from '../../../drafts/oxygenation-ask.ts';
import { type InputTexts, readInputs } from '../../../drafts/stated-inputs.ts';
import { Figure } from '../../figure.tsx';
import { InputFields } from './input-fields.tsx';
import { Panel, RestsOn } from './panel.tsx';
import { placedRefusal } from './placed-refusal.ts';

type Answer = z.infer<typeof growthOxygenation.response>;
type Way = Answer['ways'][number];

const FORMULAS = [
  'Diffusion from one open face, each of 400 modes relaxing while the surface follows the gas: F = 1 − Σ 8 / ((2k + 1)² π²) exp(−(2k + 1)² π² D t / (4 L²)) [derived].',
  'Along ab: tracer in a polycrystal, Phys. Rev. B 40 (1989) 8852 [looked-up: tabulated abstract]. Into a c-axis film: one measured point, Phys. Rev. B 51 (1995) 8498, activation energy borrowed. Along c: Phys. Rev. B 44 (1991) 2326, to a factor 10 [looked-up: abstracts].',
  'Exchange at the surface is not in it and limits measured thin films: times are lower bounds, oxygen contents upper ones.',
];

const WAY_NAMES = {
  ab: 'from edges and cracks, along ab',
  film: 'through the face, as one film was measured',
  c: 'through the face of a perfect crystal, along c',
} as const;

interface OxygenationPanelProps {
  film: FilmAlongPath | null;
  rareEarth: string;
  thicknessNm: Stated | null;
}

/** How much oxygen the film has taken up at the end of the path, by three ways. */
export function OxygenationPanel({ film, rareEarth, thicknessNm }: OxygenationPanelProps) {
  const [texts, setTexts] = useState<InputTexts>({});
  const ask = useMemo(() => oxygenationAsk(film, thicknessNm, texts), [film, thicknessNm, texts]);
  const computed = useComputation<Answer>('growth.oxygenation', ask.request);
  const placed = placedRefusal(ask.request ? computed.error : null, OXYGENATION_INPUTS, ask.faults);
  const answer = ask.request ? computed.response : null;
  const { values } = readInputs(OXYGENATION_INPUTS, texts);
  const scene = useMemo(() => answer && oxygenScene(answer, rareEarth), [answer, rareEarth]);
  return (
    <Panel
      question="How much oxygen is taken up on cooling?"
      answer={answer && oxygenSentence(answer, rareEarth)}
      waiting={waitingFor(film, thicknessNm, ask.hasCooling)}
      run={computed}
      error={placed.error}
      inputs={
        <InputFields specs={OXYGENATION_INPUTS} texts={texts} faults={placed.faults} onChange={setTexts} />
      }
      restsOn={<RestsOn formulas={FORMULAS} flags={answer?.flags ?? []} specs={OXYGENATION_INPUTS} />}
    >
      {answer ? (
        <WayTable
          answer={answer}
          holdC={values.holdC?.value ?? 450}
          sharePercent={values.sharePercent?.value ?? 95}
        />
      ) : null}
      {scene ? <Figure scene={scene} /> : null}
    </Panel>
  );
}

function waitingFor(film: FilmAlongPath | null, thicknessNm: Stated | null, hasCooling: boolean): string {
  if (film && !hasCooling)
    return 'The path ends at its hottest, so nothing is taken up on cooling: add a cooling to the plan.';
  return thicknessNm === null
    ? 'State the film’s thickness in the plan: oxygen has to cross it.'
    : 'The oxygen content stands here once the path and the fields can be read.';
}

/** Oxygen of REBa2Cu3O(6+z) from z. */
const oxygenText = (endOxygen: Way['endOxygen']): string =>
  endOxygen ? quantityText({ ...endOxygen, value: 6 + endOxygen.value }, '') : 'not known';

function oxygenSentence({ ways, surfaceOxygenAboveSix, timeS }: Answer, rareEarth: string): string {
  const by = (name: Way['way']) => ways.find(({ way }) => way === name)!;
  const last = surfaceOxygenAboveSix[timeS.length - 1]!;
  return `At the end ${rareEarth}Ba₂Cu₃Oₓ holds at most x = ${oxygenText(by('ab').endOxygen)} where edges or cracks are open, ${oxygenText(by('film').endOxygen)} through its face; the gas would give ${shortNumber(6 + last, 3)}.`;
}

interface WayTableProps {
  answer: Answer;
  holdC: number;
  sharePercent: number;
}

function WayTable({ answer, holdC, sharePercent }: WayTableProps) {
  return (
    <Table.ScrollContainer minWidth={460}>
      <Table aria-label="Oxygen taken up by three ways" verticalSpacing={4} fz="sm">
        <Table.Thead>
          <Table.Tr>
            <Table.Th>Way of the oxygen</Table.Th>
            <Table.Th ta="right">Oxygen at the end</Table.Th>
            <Table.Th ta="right">of the way</Table.Th>
            <Table.Th ta="right">
              {sharePercent} % at {holdC} °C, at least
            </Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {answer.ways.map(({ way, endOxygen, endShare, holdTime }) => (
            <Table.Tr key={way}>
              <Table.Th fw={500}>{WAY_NAMES[way]}</Table.Th>
              <Table.Td ta="right" className="number">
                {oxygenText(endOxygen)}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {endShare ? shareText(endShare) : 'no change'}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {timeText(holdTime)}
              </Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

const LONG_S = 2 * 3600;

function oxygenScene({ timeS, surfaceOxygenAboveSix, ways }: Answer, rareEarth: string) {
  const start = timeS[0]!;
  const isLong = timeS[timeS.length - 1]! - start > LONG_S;
  const x = Array.from(timeS, (each) => (each - start) / (isLong ? 3600 : 60));
  const short = { ab: 'along ab', film: 'through the face', c: 'along c' } as const;
  return curveScene({
    title: `Oxygen of ${rareEarth}Ba₂Cu₃Oₓ on cooling`,
    x: { label: 'Time since the end of growth', unit: isLong ? 'h' : 'min' },
    y: { label: 'Oxygen x', unit: '' },
    series: [
      {
        id: 'gas',
        label: 'in balance with the gas',
        look: 'fit',
        x,
        y: Array.from(surfaceOxygenAboveSix, (z) => 6 + z),
      },
      ...ways.map(({ way, oxygenAboveSix }) => ({
        id: way,
        label: short[way],
        look: 'line' as const,
        x,
        y: Array.from(oxygenAboveSix, (z) => 6 + z),
      })),
    ],
    size: { width: 560, height: 280 },
  });
}
