import { List, Table, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { z } from 'zod';
import { shortNumber } from '../../../../charts/number-text.ts';
import type { growthEvaporation } from '../../../../computations/growth/evaporation.ts';
import type { CationRatio, Stated } from '../../../../records/common.ts';
import type { SeriesView } from '../../../../records/series-view.ts';
import { useStagedComputation } from '../../../compute.ts';
import { decadesText, quantityText, shareText } from '../../../drafts/answer-words.ts';
import { EVAPORATION_INPUTS, evaporationAsk } from '../../../drafts/evaporation-ask.ts';
import type { FilmAlongPath } from '../../../drafts/film-along-path.ts';
import { carriedLoss } from '../../../drafts/loss-address.ts';
import { type FoundPairs, heatedPairs } from '../../../drafts/measured-pairs.ts';
import type { InputTexts } from '../../../drafts/stated-inputs.ts';
import { Compensation, lossesBy } from './compensation.tsx';
import { InputFields } from './input-fields.tsx';
import { Panel, RestsOn } from './panel.tsx';
import { placedRefusal } from './placed-refusal.ts';

type Answer = z.infer<typeof growthEvaporation.response>;
type Bound = Answer['equilibrium'];

const FORMULAS = [
  'Flux into vacuum J = α p / √(2π M R T) (kinetic theory of gases); still gas above adds its own resistance δ R T / (D p).',
  'Pressures: BaO by two published lines, J. Chem. Phys. 7 (1939) 478 and 48 (1968) 793 [looked-up: abstracts]. Both are extrapolated below 1200 K and lie several times apart: that distance is in neither uncertainty, so the pair is shown. Copper: NASA/TP-2002-211556 [looked-up].',
  'Share lost 1 − exp(−∫J dt / N₀), the activity falling with the amount left [derived].',
];

interface EvaporationPanelProps {
  film: FilmAlongPath | null;
  cations: CationRatio;
  rareEarth: string;
  thicknessNm: Stated | null;
  view: SeriesView;
}

/** What evaporates on the path: three bounds side by side, and what is compensated in the target. */
export function EvaporationPanel({ film, cations, rareEarth, thicknessNm, view }: EvaporationPanelProps) {
  const [texts, setTexts] = useState<InputTexts>({});
  const found = useMemo(() => heatedPairs(view), [view]);
  const ask = useMemo(
    () => evaporationAsk(film, { cations, thicknessNm }, found.pairs, texts),
    [film, cations, thicknessNm, found, texts],
  );
  const stages = ask.request && [ask.request, ask.atEquilibrium];
  const computed = useStagedComputation<Answer>('growth.evaporation', stages);
  const placed = placedRefusal(stages ? computed.error : null, EVAPORATION_INPUTS, ask.faults);
  const answer = stages ? computed.response : null;
  const isAtEquilibrium = computed.stage > 0;
  return (
    <Panel
      question="What evaporates, and how does the ratio drift?"
      answer={answer && <EvaporationSentence answer={answer} isAtEquilibrium={isAtEquilibrium} />}
      waiting={
        thicknessNm === null
          ? 'State the film’s thickness in the plan: losses are shares of what the film holds.'
          : 'The losses stand here once the path and the fields can be read.'
      }
      run={computed}
      beside={
        <>
          {answer ? (
            <Compensation
              answer={answer}
              found={found}
              seriesId={view.series.id}
              cations={cations}
              rareEarth={rareEarth}
            />
          ) : null}
          <Text size="sm">
            <Text span size="sm" fw={600}>
              Caution:
            </Text>{' '}
            barium vapour and what it deposits in the chamber are toxic. Local rules and the responsible
            person decide how it is opened and cleaned.
          </Text>
        </>
      }
      error={placed.error}
      inputs={
        <InputFields specs={EVAPORATION_INPUTS} texts={texts} faults={placed.faults} onChange={setTexts} />
      }
      restsOn={
        <RestsOn
          formulas={FORMULAS}
          flags={pairsNamed(answer?.flags ?? [], found)}
          specs={EVAPORATION_INPUTS}
        >
          {answer ? <OtherLaws answer={answer} /> : null}
          {answer?.empirical ? <PairList found={found} empirical={answer.empirical} /> : null}
        </RestsOn>
      }
    >
      {answer ? (
        <>
          <BoundTable answer={answer} pairs={found.pairs.length} isAtEquilibrium={isAtEquilibrium} />
          <Drift answer={answer} rareEarth={rareEarth} />
          <Text size="sm">
            Mind the conflict: over oxides at equilibrium copper leads and barium hardly leaves; growers who
            heat oxygen-poor amorphous layers in vacuum report barium lost first, then copper [common
            practice, no source]. No activity is bent here until it fits: the reduced bound says which oxygen
            the surface would need, and measured films decide.
          </Text>
        </>
      ) : null}
    </Panel>
  );
}

/** Remarks with their pairs by name. */
const pairsNamed = (flags: Answer['flags'], { labels }: FoundPairs): Answer['flags'] =>
  flags.map(({ code, message }) => ({
    code,
    message: message.replace(/pairs\[(\d+)\]/g, (whole, i) => labels[Number(i)] ?? whole),
  }));

/** Ba by both lines as one phrase. */
const pairText = (bound: Bound): string =>
  `${shareText(bound.ba1939.firstOrder)} or ${shareText(bound.ba1968.firstOrder)}`;

function EvaporationSentence({ answer, isAtEquilibrium }: { answer: Answer; isAtEquilibrium: boolean }) {
  const { empirical, equilibrium } = answer;
  const how = isAtEquilibrium ? 'it loses' : 'it loses at most';
  const bound = `In balance with the gas ${how} ${pairText(equilibrium)} of its Ba (by two published lines) and ${shareText(equilibrium.cu.firstOrder)} of its Cu.`;
  const { ba, cu } = empirical ? lossesBy(empirical) : { ba: null, cu: null };
  if (!ba && !cu) return bound;
  const fitted = [ba && `${shareText(ba)} of the Ba`, cu && `${shareText(cu)} of the Cu`].filter(Boolean);
  return `By your measured films this path takes ${fitted.join(' and ')}. ${bound}`;
}

interface BoundTableProps {
  answer: Answer;
  pairs: number;
  isAtEquilibrium: boolean;
}

function BoundTable({ answer, pairs, isAtEquilibrium }: BoundTableProps) {
  const { equilibrium, reduced, empirical } = answer;
  const baLosses = empirical?.pairs.map(({ baLoss }) => baLoss) ?? [];
  const cuLosses = empirical?.pairs.map(({ cuLoss }) => cuLoss) ?? [];
  const rows: { name: string; note: string; cells: [string, string, string, string] }[] = [
    {
      name: 'In balance with the gas',
      note: isAtEquilibrium
        ? 'activities of the phases at equilibrium'
        : 'activities of the pure oxides: an upper bound',
      cells: [...boundCells(equilibrium), 'not established'],
    },
    {
      name: 'Surface held reduced',
      note: `would need ${decadesText(reduced.needsLog10Po2Atm)} of oxygen at the surface`,
      cells: [...boundCells(reduced), 'not established'],
    },
    {
      name: 'Fitted to your films',
      note:
        empirical === null
          ? 'no film of this series was measured before and after a treatment'
          : `${pairs} measured before and after`,
      cells:
        empirical === null
          ? ['-', '-', '-', '-']
          : [
              fittedCell(empirical.ba1939, baLosses),
              fittedCell(empirical.ba1968, baLosses),
              fittedCell(empirical.cu, cuLosses),
              'the reference',
            ],
    },
  ];
  return (
    <Table.ScrollContainer minWidth={560}>
      <Table aria-label="Share lost on this path" verticalSpacing={4} fz="sm">
        <Table.Thead>
          <Table.Tr>
            <Table.Th>Share lost</Table.Th>
            <Table.Th ta="right">Ba (1939)</Table.Th>
            <Table.Th ta="right">Ba (1968)</Table.Th>
            <Table.Th ta="right">Cu</Table.Th>
            <Table.Th ta="right">Rare earth</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {rows.map(({ name, note, cells }) => (
            <Table.Tr key={name}>
              <Table.Th fw={500}>
                {name}
                <Text size="xs" c="dimmed" fw={400}>
                  {note}
                </Text>
              </Table.Th>
              {cells.map((cell, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: columns never change places
                <Table.Td key={i} ta="right" className="number" style={{ whiteSpace: 'nowrap' }}>
                  {cell}
                </Table.Td>
              ))}
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

const boundCells = ({ ba1939, ba1968, cu }: Bound): [string, string, string] => [
  shareText(ba1939.firstOrder),
  shareText(ba1968.firstOrder),
  shareText(cu.firstOrder),
];

function fittedCell(fit: NonNullable<Answer['empirical']>['cu'], measured: readonly number[]): string {
  if (!fit.loss) return 'no uncertainty';
  const share = carriedLoss(fit, measured);
  return share ? shareText(share) : 'not carried over';
}

function Drift({ answer, rareEarth }: { answer: Answer; rareEarth: string }) {
  const { baPerRe, cuPerRe } = answer.ratios;
  if (!baPerRe || !cuPerRe) return null;
  return (
    <Text size="sm" className="number">
      In balance with the gas the ratio goes from Ba/{rareEarth} {shortNumber(baPerRe.before)} to{' '}
      {quantityText(baPerRe.after1939, '')} (1939) or {quantityText(baPerRe.after1968, '')} (1968), and from
      Cu/
      {rareEarth} {shortNumber(cuPerRe.before)} to {quantityText(cuPerRe.after1939, '')}.
    </Text>
  );
}

/** The same bounds by the two other laws of how activity follows the amount. */
function OtherLaws({ answer }: { answer: Answer }) {
  const said = (name: string, bound: Bound): string =>
    `${name}: with an activity that stays as it was, Ba ${shareText(bound.ba1939.constant)} or ${shareText(bound.ba1968.constant)}, Cu ${shareText(bound.cu.constant)}; with one that falls as the cation's share, Ba ${shareText(bound.ba1939.falling)} or ${shareText(bound.ba1968.falling)}, Cu ${shareText(bound.cu.falling)}.`;
  return (
    <List size="xs">
      <List.Item>{said('In balance with the gas', answer.equilibrium)}</List.Item>
      <List.Item>{said('Surface held reduced', answer.reduced)}</List.Item>
    </List>
  );
}

interface PairListProps {
  found: FoundPairs;
  empirical: NonNullable<Answer['empirical']>;
}

function PairList({ found, empirical }: PairListProps) {
  return (
    <div>
      <Text size="xs" fw={600}>
        Films measured before and after
      </Text>
      <List size="xs">
        {empirical.pairs.map(({ baLoss, cuLoss, cuNeedsLog10Po2Atm }, i) => (
          <List.Item key={found.labels[i]}>
            {found.labels[i]}: Ba {shortNumber(100 * baLoss, 3)} %, Cu {shortNumber(100 * cuLoss, 3)} % gone
            against the rare earth
            {cuNeedsLog10Po2Atm === null
              ? '.'
              : `; copper alone would evaporate so much from a surface at ${decadesText(cuNeedsLog10Po2Atm)}.`}
          </List.Item>
        ))}
      </List>
    </div>
  );
}
