import { Anchor, Table, Text } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { counted } from '../../../charts/number-text.ts';
import { conditionText, FACT_TRADE_UNITS, factText } from '../../../charts/trade-text.ts';
import type { Origin, StoryFact, StoryPhase } from '../../../records/film-story.ts';
import { Disclosure } from '../disclosure.tsx';

/** A magnetisation loop gives a number for every field: above this many of one kind, the rest opens on demand. */
const MOST_ROWS_OF_A_NAME = 3;

interface SourceProps {
  origin: Origin;
  isTyped: boolean;
  seriesId: string;
}

function Source({ origin, isTyped, seriesId }: SourceProps) {
  const { measurement, typed, isStale } = origin;
  if (measurement) {
    return (
      <>
        <Anchor
          size="sm"
          renderRoot={(props) => (
            <Link
              to="/series/$seriesId/measurements/$measurementId"
              params={{ seriesId, measurementId: measurement.id }}
              {...props}
            />
          )}
        >
          {measurement.body.fileName}
        </Anchor>
        {isStale ? (
          <Text span size="xs" fw={600}>
            {' '}
            old: judge or reduce it again
          </Text>
        ) : null}
      </>
    );
  }
  return (
    <Text span size="sm">
      {isTyped ? 'typed, no raw file' : ''}
      {typed?.body.source ? ` (${typed.body.source})` : ''}
    </Text>
  );
}

/** The facts of one name beyond the first few, kept apart so that a loop does not bury the rest. */
function shortened(facts: readonly StoryFact[]): { shown: StoryFact[]; hidden: StoryFact[] } {
  const counts = new Map<string, number>();
  const shown: StoryFact[] = [];
  const hidden: StoryFact[] = [];
  for (const each of facts) {
    const count = (counts.get(each.fact.name) ?? 0) + 1;
    counts.set(each.fact.name, count);
    (count <= MOST_ROWS_OF_A_NAME ? shown : hidden).push(each);
  }
  return { shown, hidden };
}

interface PhaseGroup {
  origin: Origin;
  isTyped: boolean;
  words: string;
}

/** What each source says of phases, in a line: `present: CuO; absent: Cu2O`. */
function phaseGroups(phases: readonly StoryPhase[]): PhaseGroup[] {
  const groups = new Map<string, StoryPhase[]>();
  for (const phase of phases) {
    const key = phase.measurement?.id ?? phase.typed?.id ?? '';
    groups.set(key, [...(groups.get(key) ?? []), phase]);
  }
  return [...groups.values()].map((group) => ({
    origin: group[0]!,
    isTyped: group[0]!.fact.origin === 'typed',
    words: (['present', 'absent', 'cannot say'] as const)
      .map((answer) => [answer, group.filter(({ fact }) => fact.answer === answer)] as const)
      .filter(([, named]) => named.length > 0)
      .map(([answer, named]) => `${answer}: ${named.map(({ fact }) => fact.phase).join(', ')}`)
      .join('; '),
  }));
}

interface FactsTableProps {
  facts: readonly StoryFact[];
  phases: readonly StoryPhase[];
  seriesId: string;
}

function NumberRows({ facts, seriesId }: { facts: readonly StoryFact[]; seriesId: string }) {
  return facts.map(({ fact, ...origin }, i) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: facts have no name of their own and are never moved
    <Table.Tr key={i}>
      <Table.Td>{FACT_TRADE_UNITS[fact.name].label}</Table.Td>
      <Table.Td ta="right" className="number" style={{ whiteSpace: 'nowrap' }}>
        {factText(fact)}
        {fact.standardUncertainty === null && !fact.bound ? (
          <Text span size="xs" c="dimmed">
            {' '}
            u not stated
          </Text>
        ) : null}
      </Table.Td>
      <Table.Td>{conditionText(fact.at)}</Table.Td>
      <Table.Td>{fact.method}</Table.Td>
      <Table.Td style={{ overflowWrap: 'anywhere' }}>
        <Source origin={origin} isTyped={fact.origin === 'typed'} seriesId={seriesId} />
      </Table.Td>
    </Table.Tr>
  ));
}

function Head() {
  return (
    <Table.Thead>
      <Table.Tr>
        <Table.Th>Fact</Table.Th>
        <Table.Th ta="right">Value ± standard uncertainty</Table.Th>
        <Table.Th>At</Table.Th>
        <Table.Th>Method</Table.Th>
        <Table.Th>From</Table.Th>
      </Table.Tr>
    </Table.Thead>
  );
}

/** What is known of a piece in a state, each number with where it came from. */
export function FactsTable({ facts, phases, seriesId }: FactsTableProps) {
  const { shown, hidden } = shortened(facts);
  return (
    <>
      <Table.ScrollContainer minWidth={640}>
        <Table verticalSpacing={3} aria-label="Facts">
          <Head />
          <Table.Tbody>
            <NumberRows facts={shown} seriesId={seriesId} />
            {phaseGroups(phases).map(({ origin, isTyped, words }) => (
              <Table.Tr key={`${words} ${origin.measurement?.id ?? origin.typed?.id}`}>
                <Table.Td>Phases</Table.Td>
                <Table.Td colSpan={3}>{words}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere' }}>
                  <Source origin={origin} isTyped={isTyped} seriesId={seriesId} />
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {hidden.length > 0 ? (
        <Disclosure title={`${counted(hidden.length, 'further number')} of the same kinds`}>
          <Table.ScrollContainer minWidth={640}>
            <Table verticalSpacing={3} aria-label="Further facts">
              <Head />
              <Table.Tbody>
                <NumberRows facts={hidden} seriesId={seriesId} />
              </Table.Tbody>
            </Table>
          </Table.ScrollContainer>
        </Disclosure>
      ) : null}
    </>
  );
}
