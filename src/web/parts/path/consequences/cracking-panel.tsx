import { NativeSelect, Stack, Table, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import type { z } from 'zod';
import { shortNumber } from '../../../../charts/number-text.ts';
import type { growthCracking } from '../../../../computations/growth/cracking.ts';
import type { Stated } from '../../../../records/common.ts';
import { useComputation } from '../../../compute.ts';
import { drawnOddsText, quantityText } from '../../../drafts/answer-words.ts';
import { crackingAsk } from '../../../drafts/cracking-ask.ts';
import type { FilmAlongPath } from '../../../drafts/film-along-path.ts';
import type { InputTexts } from '../../../drafts/stated-inputs.ts';
import { SUBSTRATE_ROWS, substrateRow } from '../../../drafts/substrate-expansion.ts';
import { InputFields } from './input-fields.tsx';
import { Panel, RestsOn } from './panel.tsx';
import { placedRefusal } from './placed-refusal.ts';

type Answer = z.infer<typeof growthCracking.response>;
type Crack = Answer['cracks'][number];

const FORMULAS = [
  'Strain = (α film − α substrate)(T growth − T end); stress = M × strain with M = C₁₁ + C₁₂ − 2 C₁₃² / C₃₃ averaged over twins [derived].',
  'Critical thickness h = K² / (Z σ²), Z = 1.976 for a crack that channels, 3.951 for one at the surface [memory: Hutchinson and Suo 1992, Adv. Appl. Mech. 29, 63].',
  'Odds and intervals are of 4000 seeded draws of all inputs.',
];

interface CrackingPanelProps {
  film: FilmAlongPath | null;
  thicknessNm: Stated | null;
  /** as written */
  substrate: string;
}

/** Whether the film may crack on this substrate: a screen. */
export function CrackingPanel({ film, thicknessNm, substrate }: CrackingPanelProps) {
  const [texts, setTexts] = useState<InputTexts>({});
  const known = substrateRow(substrate);
  const [chosen, setChosen] = useState<{ of: string; row: string } | null>(null);
  const row = chosen?.of === substrate ? chosen.row : (known ?? '');
  const ask = useMemo(() => crackingAsk(film, thicknessNm, row, texts), [film, thicknessNm, row, texts]);
  const computed = useComputation<Answer>('growth.cracking', ask.request);
  const placed = placedRefusal(ask.request ? computed.error : null, ask.specs, ask.faults);
  const answer = ask.request ? computed.response : null;
  return (
    <Panel
      question="Will it crack on this substrate?"
      answer={answer && thicknessNm ? crackSentence(answer, thicknessNm, row || substrate) : null}
      waiting={waitingFor(thicknessNm, row)}
      run={computed}
      error={placed.error}
      inputs={
        <Stack gap="xs">
          <NativeSelect
            size="xs"
            label="Which expansion?"
            description={
              known && row === known
                ? `read from “${substrate}”`
                : substrate.trim() === ''
                  ? 'the plan names no substrate'
                  : `“${substrate}” names none of the table for sure`
            }
            inputWrapperOrder={['label', 'input', 'description', 'error']}
            maw={320}
            value={row}
            data={[
              { value: '', label: 'none of them: stated below' },
              ...SUBSTRATE_ROWS.map((id) => ({ value: id, label: id })),
            ]}
            onChange={(event) => setChosen({ of: substrate, row: event.currentTarget.value })}
          />
          <InputFields specs={ask.specs} texts={texts} faults={placed.faults} onChange={setTexts} />
        </Stack>
      }
      restsOn={<RestsOn formulas={FORMULAS} flags={answer?.flags ?? []} specs={ask.specs} />}
    >
      {answer ? (
        <>
          <CrackTable answer={answer} />
          <Text size="xs" c="dimmed">
            {answer.screen}
          </Text>
        </>
      ) : null}
    </Panel>
  );
}

function waitingFor(thicknessNm: Stated | null, row: string): string {
  if (thicknessNm === null) return 'State the film’s thickness in the plan: cracks depend on it.';
  return row === ''
    ? 'Choose which expansion the substrate has, or state it.'
    : 'The critical thickness stands here once the path and the fields can be read.';
}

function crackSentence({ cracks, stressPa }: Answer, thicknessNm: Stated, substrate: string): string {
  const channel = cracks.find(({ kind }) => kind === 'channel')!;
  const film = quantityText(
    { value: thicknessNm.value, standardUncertainty: thicknessNm.standardUncertainty ?? 0 },
    'nm',
  );
  if (!channel.criticalThicknessNm)
    return `On ${substrate} the film is not in tension (${quantityText(stressPa, 'MPa', 1e-6)}): cracks of this kind do not run.`;
  const verdict = channel.odds < 0.5 ? 'is likely below' : 'is likely above';
  return `${film} ${verdict} the ${quantityText(channel.criticalThicknessNm, 'nm')} at which channel cracks begin to run on ${substrate}; odds of cracks ${drawnOddsText(channel.odds)}, by this screen.`;
}

const intervalText = ({ low, median, high }: Crack): string =>
  median === null
    ? 'no tension in most draws'
    : `${shortNumber(median, 3)} (${low === null ? '-' : shortNumber(low, 3)} to ${high === null ? 'none' : shortNumber(high, 3)})`;

function CrackTable({ answer }: { answer: Answer }) {
  const { strain, stressPa, biaxialModulusPa, cracks } = answer;
  const rows: [string, string][] = [
    ['Strain of the film once cold, %', quantityText(strain, '', 100)],
    ['Stress, MPa', quantityText(stressPa, '', 1e-6)],
    ['Biaxial modulus, GPa', quantityText(biaxialModulusPa, '', 1e-9)],
    ...cracks.map((crack): [string, string] => [
      `Critical thickness, ${crack.kind} cracks, nm: median (95 %)`,
      intervalText(crack),
    ]),
    ...cracks.map(({ kind, odds }): [string, string] => [`Odds of ${kind} cracks`, drawnOddsText(odds)]),
  ];
  return (
    <Table aria-label="Stress and critical thickness" verticalSpacing={4} fz="sm">
      <Table.Tbody>
        {rows.map(([name, text]) => (
          <Table.Tr key={name}>
            <Table.Th fw={500}>{name}</Table.Th>
            <Table.Td ta="right" className="number">
              {text}
            </Table.Td>
          </Table.Tr>
        ))}
      </Table.Tbody>
    </Table>
  );
}
