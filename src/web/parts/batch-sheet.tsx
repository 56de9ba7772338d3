import { Checkbox, Group, List, Stack, Table, Text, Title } from '@mantine/core';
import { uncertainText } from '../../charts/number-text.ts';
import { ratioText } from '../../charts/trade-text.ts';
import type { BatchAsk } from '../drafts/target-draft.ts';
import { Cautions, type CautionText } from './cautions.tsx';

/** What `target.batch` answers. */
export interface BatchAnswer {
  masses: { formula: string; massMg: number; exactMassMg: number }[];
  weighedTotalMg: number;
  calcinedTotalMg: number;
  targetRatio: Record<string, number>;
  ratioU: Record<string, number>;
  radiusMeanAngstrom: number | null;
  radiusVarianceAngstrom2: number | null;
  cautions: CautionText[];
  flags: { code: string; message: string }[];
}

interface BatchSheetProps {
  /** heading of the printed sheet */
  title: string;
  request: BatchAsk;
  response: BatchAnswer;
  /** one a powder; '' where none is written down */
  lotNumbers: readonly string[];
  /** which version of the computation made it */
  version: number;
  note?: string;
}

const percent = (share: number): string => `${Number((share * 100).toPrecision(6))} %`;

/** A mass in g with the digits that the balance shows. */
function gramText(massMg: number, balanceStepMg: number): string {
  const digits = Math.min(7, Math.max(0, Math.ceil(3 - Math.log10(balanceStepMg))));
  return (massMg / 1000).toFixed(digits);
}

/** The weighing sheet: what to weigh of which lot, what it gives, what to mind. It is what is printed. */
export function BatchSheet({ title, request, response, lotNumbers, version, note }: BatchSheetProps) {
  const { balanceStepMg, precursors } = request;
  const { masses, targetRatio, ratioU, cautions, flags, radiusMeanAngstrom } = response;
  return (
    <Stack gap="sm" className="batch-sheet">
      <div>
        <Title order={2} style={{ overflowWrap: 'anywhere' }}>
          {title}
        </Title>
        <Text size="sm" c="dimmed">
          Wanted {ratioText(request.composition.cations)}; {request.totalMassG} g fired; balance step{' '}
          {balanceStepMg} mg
        </Text>
      </div>
      <Table.ScrollContainer minWidth={480}>
        <Table aria-label="Powders to weigh" verticalSpacing={4}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th w={60}>Done</Table.Th>
              <Table.Th>Powder</Table.Th>
              <Table.Th>Lot</Table.Th>
              <Table.Th ta="right">Purity</Table.Th>
              <Table.Th ta="right">Loss on drying</Table.Th>
              <Table.Th ta="right">Weigh, g</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {masses.map(({ formula, massMg }, i) => (
              // a formula may stand twice, from two lots
              // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name and never change places
              <Table.Tr key={i}>
                <Table.Td>
                  <Checkbox aria-label={`${formula} is weighed`} />
                </Table.Td>
                <Table.Td fw={600}>{formula}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>{lotNumbers[i] || 'lot: ________'}</Table.Td>
                <Table.Td ta="right" className="number">
                  {percent(precursors[i]?.purity ?? Number.NaN)}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {percent(precursors[i]?.lossOnDrying ?? Number.NaN)}
                </Table.Td>
                <Table.Td ta="right" className="number" fw={700} fz="md">
                  {gramText(massMg, balanceStepMg)}
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
          <Table.Tfoot>
            <Table.Tr>
              <Table.Td />
              <Table.Td colSpan={4}>Weighed in all</Table.Td>
              <Table.Td ta="right" className="number">
                {gramText(response.weighedTotalMg, balanceStepMg)}
              </Table.Td>
            </Table.Tr>
            <Table.Tr>
              <Table.Td />
              <Table.Td colSpan={4}>After calcining and firing</Table.Td>
              <Table.Td ta="right" className="number">
                {gramText(response.calcinedTotalMg, balanceStepMg)}
              </Table.Td>
            </Table.Tr>
          </Table.Tfoot>
        </Table>
      </Table.ScrollContainer>
      <Text size="sm" className="number">
        <Text span fw={600} size="sm">
          These masses give{' '}
        </Text>
        {Object.entries(targetRatio)
          .map(([cation, amount]) => `${cation} ${uncertainText(amount, ratioU[cation] ?? null)}`)
          .join(' : ')}
        {radiusMeanAngstrom === null
          ? ''
          : `; mean radius of the rare earths ${radiusMeanAngstrom.toFixed(4)} Å`}
        <Text span size="xs" c="dimmed">
          {' '}
          (standard uncertainty from balance, purity and atomic weights)
        </Text>
      </Text>
      {flags.length > 0 ? (
        <List size="sm" aria-label="To be considered">
          {flags.map(({ code, message }) => (
            <List.Item key={`${code} ${message}`}>{message}</List.Item>
          ))}
        </List>
      ) : null}
      {note ? <Text size="sm">{note}</Text> : null}
      <div>
        <Title order={3} mb={4}>
          Cautions
        </Title>
        <Cautions cautions={cautions} />
      </div>
      <Group justify="space-between" gap="xs">
        <Text size="xs" c="dimmed">
          Made with target.batch version {version}.
        </Text>
        <Text size="xs" className="print-only">
          Weighed by ____________________ on ____________________
        </Text>
      </Group>
    </Stack>
  );
}
