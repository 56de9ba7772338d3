import { Checkbox, Table, Text } from '@mantine/core';
import { dryingOf, type PrecursorAsk } from '../../drafts/powder-rows.ts';
import type { BatchSheetProps } from './batch-answer.ts';

const percent = (share: number): string => `${Number((share * 100).toPrecision(6))} %`;

/** A mass in g with the digits that the balance shows. */
export function gramText(massMg: number, balanceStepMg: number): string {
  const digits = Math.min(7, Math.max(0, Math.ceil(3 - Math.log10(balanceStepMg))));
  return (massMg / 1000).toFixed(digits);
}

/** What is known of a powder: `99.9 %`, or `Ba 69.4 %`. */
function knownText({ purity, assay, isMetalsBasis }: PrecursorAsk): string {
  if (assay)
    return `${assay.cation} ${Number((100 * assay.massFraction).toPrecision(6))} ± ${Number((100 * assay.standardUncertainty).toPrecision(2))} %`;
  return `${percent(purity ?? Number.NaN)}${isMetalsBasis ? ', metals basis' : ''}`;
}

/** What to weigh of which lot, with a box to tick for each. */
export function SheetTable({
  request,
  response,
  lotNumbers,
  dryingC,
  powders,
}: Pick<BatchSheetProps, 'request' | 'response' | 'lotNumbers' | 'dryingC' | 'powders'>) {
  const { balanceStepMg, precursors } = request;
  return (
    <Table.ScrollContainer minWidth={480}>
      <Table aria-label="Powders to weigh" verticalSpacing={4} horizontalSpacing={6}>
        <Table.Thead>
          <Table.Tr>
            <Table.Th w={44}>Done</Table.Th>
            <Table.Th>Powder</Table.Th>
            <Table.Th miw={92}>Lot</Table.Th>
            <Table.Th ta="right" miw={76}>
              Holds
            </Table.Th>
            <Table.Th ta="right">Loss on drying</Table.Th>
            <Table.Th ta="right">Weigh, g</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {response.masses.map(({ formula, massMg }, i) => {
            const powder = precursors[i];
            const drying = dryingOf(formula, powders);
            const at = dryingC[i];
            return (
              // a formula may stand twice, from two lots
              // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name and never change places
              <Table.Tr key={i} style={{ verticalAlign: 'top' }}>
                <Table.Td>
                  <Checkbox aria-label={`${formula} is weighed`} />
                </Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>
                  <Text size="sm" fw={600}>
                    {formula}
                  </Text>
                  {drying ? (
                    <Text size="xs" c="dimmed">
                      dry: {drying}
                    </Text>
                  ) : null}
                </Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>{lotNumbers[i] || '________'}</Table.Td>
                <Table.Td ta="right" className="number">
                  {powder ? knownText(powder) : ''}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {percent(powder?.lossOnDrying ?? Number.NaN)}
                  {at === null || at === undefined ? '' : ` at ${at} °C`}
                </Table.Td>
                <Table.Td ta="right" className="number" fw={700} fz="lg">
                  {gramText(massMg, balanceStepMg)}
                </Table.Td>
              </Table.Tr>
            );
          })}
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
  );
}
