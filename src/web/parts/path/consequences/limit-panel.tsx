import { NativeSelect, Stack, Table } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { z } from 'zod';
import { shortNumber } from '../../../../charts/number-text.ts';
import type { growthLimit } from '../../../../computations/growth/limit.ts';
import type { Stated } from '../../../../records/common.ts';
import type { PathPlan } from '../../../../records/kinds.ts';
import { useComputation } from '../../../compute.ts';
import { drawnOddsText, quantityText } from '../../../drafts/answer-words.ts';
import { type FilmAlongPath, filmAt, middleOfHottestS } from '../../../drafts/film-along-path.ts';
import { type Carrier, depositMiddleS, limitAsk, wantedRate } from '../../../drafts/limit-ask.ts';
import type { LiquidTime } from '../../../drafts/liquid-time.ts';
import type { InputTexts } from '../../../drafts/stated-inputs.ts';
import { InputFields } from './input-fields.tsx';
import { Panel, RestsOn } from './panel.tsx';
import { placedRefusal } from './placed-refusal.ts';

type Answer = z.infer<typeof growthLimit.response>;

const FORMULAS = [
  'Through liquid: R = D (C₀ − Ci) / (δ (Cs − Ci)), the rare earth carried to the face [derived: balance of solute at a moving face].',
  'Solubility is moved with temperature by its heat of dissolution, and C₀ is that of the undercooling above the face [derived: van’t Hoff].',
  'From the gas: 2 α p / √(2π M R T) / (n Cs) by arrival, and 2 D p / (δ R T) / (n Cs) through still carrier gas [derived].',
  'Attachment and nucleation are not in it: they may limit where supply does not.',
];

const NAMES = {
  liquid: 'rare earth through the liquid',
  arrival: 'oxygen that arrives from the gas',
  'gas layer': 'oxygen through the still gas',
} as const;

interface LimitPanelProps {
  film: FilmAlongPath | null;
  /** null while it is not known */
  liquid: LiquidTime | null;
  start: PathPlan['start'];
  segments: PathPlan['segments'];
  thicknessNm: Stated | null;
}

/** What limits the growth rate, beside the rate that the plan wants. */
export function LimitPanel({ film, liquid, start, segments, thicknessNm }: LimitPanelProps) {
  const [texts, setTexts] = useState<InputTexts>({});
  const [carrier, setCarrier] = useState<Carrier>('none');
  const ask = useMemo(() => {
    if (!film) return null;
    const depositS = depositMiddleS(start, segments);
    const at = filmAt(film, depositS ?? middleOfHottestS(film, liquid?.spans));
    return limitAsk(
      {
        temperatureC: at.temperatureC,
        po2Atm: 10 ** at.log10Po2Atm,
        when: depositS === null ? 'in the middle of its hottest stretch' : 'in the middle of the deposition',
        wanted: wantedRate(segments, thicknessNm, liquid?.liquidS.value ?? null),
        thicknessNm,
        carrier,
      },
      texts,
    );
  }, [film, liquid, start, segments, thicknessNm, carrier, texts]);
  const request = ask?.request ?? null;
  const computed = useComputation<Answer>('growth.limit', request);
  const placed = placedRefusal(request ? computed.error : null, ask?.specs ?? [], ask?.faults ?? {});
  const answer = request ? computed.response : null;
  const wanted = (request as { wantedRateNmPerS: number } | null)?.wantedRateNmPerS;
  return (
    <Panel
      question="What limits the growth rate?"
      answer={answer && wanted ? limitSentence(answer, wanted) : null}
      waiting={
        liquid === null
          ? 'The limits stand here once it is known when liquid is there.'
          : 'The limits stand here once the wanted rate and the liquid’s thickness are known: state them.'
      }
      run={computed}
      error={placed.error}
      inputs={
        <Stack gap="xs">
          <NativeSelect
            size="xs"
            label="Oxygen comes through"
            maw={260}
            value={carrier}
            data={[
              { value: 'none', label: 'no other gas (low pressure)' },
              { value: 'Ar', label: 'argon' },
              { value: 'N2', label: 'nitrogen' },
            ]}
            onChange={(event) => setCarrier(event.currentTarget.value as Carrier)}
          />
          <InputFields specs={ask?.specs ?? []} texts={texts} faults={placed.faults} onChange={setTexts} />
        </Stack>
      }
      restsOn={<RestsOn formulas={FORMULAS} flags={answer?.flags ?? []} specs={ask?.specs ?? []} />}
    >
      {answer ? <LimitTable answer={answer} /> : null}
    </Panel>
  );
}

function limitSentence({ limits, limiting }: Answer, wantedNmPerS: number): string {
  const least = limits.find(({ name }) => name === limiting);
  if (!least) return 'No limit could be worked out.';
  const supply = `${NAMES[least.name]} allows ${quantityText(least.rateNmPerS, 'nm/s')}`;
  const wanted = `${shortNumber(wantedNmPerS)} nm/s`;
  return least.margin.value < 1
    ? `The ${NAMES[least.name]} limits: it allows ${quantityText(least.rateNmPerS, 'nm/s')}, less than the ${wanted} wanted.`
    : `Supply does not limit the ${wanted} wanted: the ${supply}, ${shortNumber(least.margin.value, 2)} times as much.`;
}

function LimitTable({ answer }: { answer: Answer }) {
  return (
    <Table.ScrollContainer minWidth={380}>
      <Table aria-label="Fastest growth that supply allows" verticalSpacing={4} fz="sm">
        <Table.Thead>
          <Table.Tr>
            <Table.Th>Supply of</Table.Th>
            <Table.Th ta="right">allows, nm/s</Table.Th>
            <Table.Th ta="right">of the wanted rate</Table.Th>
            <Table.Th ta="right">odds that it suffices</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {answer.limits.map(({ name, rateNmPerS, margin, odds }) => (
            <Table.Tr key={name}>
              <Table.Th fw={500}>{NAMES[name]}</Table.Th>
              <Table.Td ta="right" className="number">
                {quantityText(rateNmPerS, '')}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {quantityText(margin, 'times')}
              </Table.Td>
              <Table.Td ta="right" className="number">
                {drawnOddsText(odds)}
              </Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
