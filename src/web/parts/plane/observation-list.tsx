import { Table, Text } from '@mantine/core';
import { pressureText } from '../../../charts/trade-text.ts';
import { PUBLISHED_EQUILIBRIA_TABLE } from '../../../science/tables/published-equilibria.ts';
import { publishedObservations } from '../../plane/published.ts';
import { Disclosure } from '../disclosure.tsx';

const OBSERVATIONS = publishedObservations();

const KIND_WORDS = { bulk: 'bulk', film: 'films', own: 'added' } as const;

const rangeText = (texts: readonly string[]): string => [...new Set(texts)].join(' to ');

/** Every published line and point of the map with its source and how it is known. */
export function ObservationList() {
  return (
    <Disclosure title={`Sources of the ${OBSERVATIONS.length} published lines and points`}>
      <Text size="xs" c="dimmed" pb={4}>
        Lines of films cross metastable ground and are not bulk equilibrium. Measured with the rare earth in
        the name of the phase, whichever is shown. Table {PUBLISHED_EQUILIBRIA_TABLE.table}, SHA-256{' '}
        {PUBLISHED_EQUILIBRIA_TABLE.digest.slice(0, 12)}.
      </Text>
      <Table.ScrollContainer minWidth={720}>
        <Table aria-label="Published lines and points" verticalSpacing={3} horizontalSpacing="xs" fz="xs">
          <Table.Thead>
            <Table.Tr>
              {['Reaction', 'Of', 'Temperature, °C', 'Oxygen pressure', 'Source', 'Known by'].map((text) => (
                <Table.Th key={text}>{text}</Table.Th>
              ))}
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {OBSERVATIONS.map(({ id, label, kind, temperatureC, po2Atm, source, tag }) => (
              <Table.Tr key={id} style={{ verticalAlign: 'top' }}>
                <Table.Td>{label}</Table.Td>
                <Table.Td>{KIND_WORDS[kind]}</Table.Td>
                <Table.Td className="number">{rangeText(temperatureC.map((at) => at.toFixed(0)))}</Table.Td>
                <Table.Td className="number">{rangeText(po2Atm.map(pressureText))}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>{source}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>{tag}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </Disclosure>
  );
}
