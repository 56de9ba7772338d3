import { ScrollArea, Stack, Table, Text, Title } from '@mantine/core';
import { uncertainText } from '../../charts/number-text.ts';
import type { ScanAnswer } from '../scan-answer.ts';

interface Quantity {
  value: number;
  standardUncertainty: number;
}

const text = ({ value, standardUncertainty }: Quantity): string => uncertainText(value, standardUncertainty);

/** A probability as a share that never claims more than is known. */
function oddsText(odds: number): string {
  if (odds > 0.99) return 'over 99 %';
  return odds < 0.01 ? 'under 1 %' : `${Math.round(odds * 100)} %`;
}

function Phases({ phases }: Pick<ScanAnswer, 'phases'>) {
  return (
    <section aria-label="Phases">
      <Title order={2} mb={4}>
        Phases
      </Title>
      <ScrollArea type="auto" viewportProps={{ tabIndex: 0, 'aria-label': 'Phases asked for' }}>
        <Table verticalSpacing={4} miw={640}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Phase</Table.Th>
              <Table.Th>Answer</Table.Th>
              <Table.Th ta="right">Odds</Table.Th>
              <Table.Th ta="right">Detection limit, of (005)</Table.Th>
              <Table.Th>Why</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {phases.map(({ id, answer, odds, detectionLimit, reason, texture, lines }) => (
              <Table.Tr key={`${id} ${texture}`}>
                <Table.Td>
                  {id}
                  {texture ? (
                    <Text size="xs" c="dimmed">
                      {texture}
                    </Text>
                  ) : null}
                </Table.Td>
                <Table.Td fw={answer === 'present' ? 600 : undefined} style={{ whiteSpace: 'nowrap' }}>
                  {answer}
                </Table.Td>
                <Table.Td ta="right" className="number" style={{ whiteSpace: 'nowrap' }}>
                  {oddsText(odds)}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {detectionLimit === null ? 'none' : `${Number((detectionLimit * 100).toPrecision(2))} %`}
                </Table.Td>
                <Table.Td>
                  <Text size="sm">{reason}</Text>
                  <Text size="xs" c="dimmed">
                    {lines
                      .filter(({ state }) => state !== 'outside the scan')
                      .map(
                        ({ label, twoThetaDeg, state, coveredBy }) =>
                          `${label} ${twoThetaDeg.toFixed(2)}° ${state}${coveredBy ? ` by ${coveredBy}` : ''}`,
                      )
                      .join('; ')}
                  </Text>
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </ScrollArea>
    </section>
  );
}

function Lines({ peaks }: Pick<ScanAnswer, 'peaks'>) {
  return (
    <section aria-label="Lines">
      <Title order={2} mb={4}>
        Lines
      </Title>
      <ScrollArea type="auto" viewportProps={{ tabIndex: 0, 'aria-label': 'Lines found in the scan' }}>
        <Table striped verticalSpacing={3} miw={760} className="number">
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Line</Table.Th>
              <Table.Th>Of</Table.Th>
              <Table.Th ta="right">2θ, °</Table.Th>
              <Table.Th ta="right">d, Å</Table.Th>
              <Table.Th ta="right">Height, counts</Table.Th>
              <Table.Th ta="right">Area, counts °</Table.Th>
              <Table.Th ta="right">Width, °</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {peaks.map((peak) => (
              <Table.Tr key={peak.twoThetaDeg.value}>
                <Table.Td>{peak.label}</Table.Td>
                <Table.Td>{peak.kind}</Table.Td>
                <Table.Td ta="right">{text(peak.twoThetaDeg)}</Table.Td>
                <Table.Td ta="right">{text(peak.dAngstrom)}</Table.Td>
                <Table.Td ta="right">{Math.round(peak.heightCounts)}</Table.Td>
                <Table.Td ta="right">{text(peak.areaCountsDeg)}</Table.Td>
                <Table.Td ta="right">{text(peak.fwhmDeg)}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </ScrollArea>
    </section>
  );
}

/** What a scan answers about phases, and every line it was read from. */
export function ScanTables({ answer }: { answer: ScanAnswer }) {
  return (
    <Stack gap="lg">
      <Phases phases={answer.phases} />
      <Lines peaks={answer.peaks} />
    </Stack>
  );
}
