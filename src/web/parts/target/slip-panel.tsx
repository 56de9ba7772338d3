import { List, SimpleGrid, Stack, Table, Text, TextInput } from '@mantine/core';
import { useState } from 'react';
import { ratioText } from '../../../charts/trade-text.ts';
import { targetSlip } from '../../../computations/target/slip.ts';
import { answerNow } from '../../drafts/answer-now.ts';
import { EMPTY_SLIP, explanationText, readSlip, type SlipAnswer, scaledTo } from '../../drafts/slip-draft.ts';
import type { BatchAsk } from '../../drafts/target-draft.ts';
import { inWords } from '../../drafts/target-words.ts';
import { textFields } from '../record-forms/fields.ts';
import type { BatchAnswer } from './batch-answer.ts';

interface SlipPanelProps {
  request: BatchAsk;
  response: BatchAnswer;
  rareEarth: string;
}

/** If one weighing slipped: what it would have done, and which slip explains a ratio that was found. */
export function SlipPanel({ request, response, rareEarth }: SlipPanelProps) {
  const [draft, setDraft] = useState(EMPTY_SLIP);
  const massesMg = response.masses.map(({ massMg }) => massMg);
  const { more, less, explain, faults } = readSlip(draft, request, massesMg, rareEarth);
  const field = textFields({ draft, onChange: setDraft, faults, isTried: true });
  const [much, little, found] = [more, less, explain].map((ask) => (ask ? answerNow(targetSlip, ask) : null));
  return (
    <Stack gap="xs">
      <SimpleGrid cols={{ base: 1, xs: 3 }} spacing="sm">
        <TextInput {...field('slipMg', 'Slip of one weighing, mg')} inputMode="decimal" />
        <TextInput
          {...field('found', 'Ratio measured in the target')}
          placeholder={`${rareEarth}1 Ba2 Cu2.9`}
        />
        <TextInput {...field('foundPercent', 'Uncertainty of each amount, %')} inputMode="decimal" />
      </SimpleGrid>
      {much && 'response' in much && little && 'response' in little ? (
        <SlipTable
          more={much.response}
          less={little.response}
          slipMg={more!.slipMg!}
          ratio={response.targetRatio}
        />
      ) : null}
      {found && 'response' in found ? <Explanations answer={found.response} /> : null}
      {[much, little, found].map((answer) =>
        answer && 'refusal' in answer ? (
          <Text key={answer.refusal} size="sm" c="var(--mantine-color-error)" role="alert">
            {answer.refusal}
          </Text>
        ) : null,
      )}
    </Stack>
  );
}

interface SlipTableProps {
  more: SlipAnswer;
  less: SlipAnswer;
  slipMg: number;
  ratio: Record<string, number>;
}

function SlipTable({ more, less, slipMg, ratio }: SlipTableProps) {
  const rows = more.slips.map((much) => ({
    formula: much.formula,
    much: ratioText(scaledTo(ratio, much.shares)),
    little: less.slips.find(({ formula }) => formula === much.formula),
  }));
  return (
    <Table.ScrollContainer minWidth={460}>
      <Table aria-label="What a slip would have done" verticalSpacing={3}>
        <Table.Thead>
          <Table.Tr>
            <Table.Th>If only</Table.Th>
            <Table.Th>was {slipMg} mg too much</Table.Th>
            <Table.Th>was {slipMg} mg too little</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {rows.map(({ formula, much, little }, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a formula may stand twice, from two lots
            <Table.Tr key={i}>
              <Table.Td>{formula}</Table.Td>
              <Table.Td className="number">{much}</Table.Td>
              <Table.Td className="number">
                {little ? ratioText(scaledTo(ratio, little.shares)) : 'more than there is'}
              </Table.Td>
            </Table.Tr>
          ))}
          <Table.Tr>
            <Table.Td>as planned</Table.Td>
            <Table.Td className="number" colSpan={2}>
              {ratioText(scaledTo(ratio, more.planned))}
            </Table.Td>
          </Table.Tr>
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

function Explanations({ answer }: { answer: SlipAnswer }) {
  return (
    <div role="status">
      <List type="ordered" size="sm" aria-label="Slips that explain what was found, best first">
        {answer.explanations.map((each) => (
          <List.Item key={`${each.formula} ${each.errorMg}`}>{explanationText(each)}</List.Item>
        ))}
      </List>
      {answer.flags.map(({ code, message }) => (
        <Text size="sm" key={`${code} ${message}`}>
          {inWords(message)}
        </Text>
      ))}
    </div>
  );
}
