import { Group, List, Stack, Table, Text } from '@mantine/core';
import { counted, uncertainText } from '../../../charts/number-text.ts';
import { criterionText, FACT_TRADE_UNITS } from '../../../charts/trade-text.ts';
import type { Criterion, VerdictOutcome } from '../../../records/criteria.ts';
import type { VerdictSummary } from '../../../records/series-view.ts';
import { momentText } from '../../moments.ts';
import { Disclosure } from '../disclosure.tsx';
import { VerdictBadge } from '../verdict-badge.tsx';

interface Quantity {
  value: number;
  standardUncertainty: number;
  unit: string;
}

interface Reason {
  criterionIndex: number;
  outcome: VerdictOutcome;
  odds: number | null;
  oddsWithScatter: number | null;
  measured: Quantity | null;
  wanted: { value: number; unit: string } | null;
  sentence: string;
  wouldDecide: string | null;
}

/** What `learning.verdict` answers. */
interface VerdictAnswer {
  outcome: VerdictOutcome;
  odds: { passes: number; fallsShort: number; cannotSay: number };
  reasons: Reason[];
  flags: { code: string; message: string }[];
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;

/** A quantity of a reason in the trade's unit for the number that the criterion asks for. */
function tradeText(
  { value, unit }: { value: number; unit: string },
  criterion: Criterion | undefined,
  u: number | null,
) {
  const trade = criterion?.kind === 'number' ? FACT_TRADE_UNITS[criterion.fact] : { factor: 1, unit };
  return `${uncertainText(value * trade.factor, u === null ? null : u * trade.factor)} ${trade.unit}`;
}

/** @param criteria empty where the verdict is old, since it may speak of criteria that are no more */
function ReasonTable({ reasons, criteria }: { reasons: Reason[]; criteria: readonly Criterion[] }) {
  return (
    <Table.ScrollContainer minWidth={560}>
      <Table verticalSpacing={4} aria-label="Reasons of the verdict">
        <Table.Thead>
          <Table.Tr>
            <Table.Th w={120}>Says</Table.Th>
            <Table.Th>Why</Table.Th>
            <Table.Th ta="right">Found</Table.Th>
            <Table.Th ta="right">Wanted</Table.Th>
            <Table.Th ta="right">Odds</Table.Th>
          </Table.Tr>
        </Table.Thead>
        <Table.Tbody>
          {reasons.map((reason) => {
            const criterion = criteria[reason.criterionIndex];
            return (
              <Table.Tr key={reason.criterionIndex} style={{ verticalAlign: 'top' }}>
                <Table.Td>
                  <VerdictBadge outcome={reason.outcome} />
                </Table.Td>
                <Table.Td>
                  {criterion ? (
                    <Text size="sm" fw={600}>
                      {criterionText(criterion)}
                    </Text>
                  ) : null}
                  <Text size="sm">{reason.sentence}</Text>
                  {reason.wouldDecide ? (
                    <Text size="sm" fs="italic">
                      {reason.wouldDecide}
                    </Text>
                  ) : null}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {reason.measured
                    ? tradeText(reason.measured, criterion, reason.measured.standardUncertainty)
                    : ''}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {reason.wanted ? tradeText(reason.wanted, criterion, null) : ''}
                </Table.Td>
                <Table.Td ta="right" className="number">
                  {reason.odds === null ? '' : percent(reason.odds)}
                  {reason.oddsWithScatter === null ? null : (
                    <Text size="xs" c="dimmed">
                      {percent(reason.oddsWithScatter)} for another run
                    </Text>
                  )}
                </Table.Td>
              </Table.Tr>
            );
          })}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

interface VerdictReasonsProps {
  verdict: VerdictSummary;
  /** the series' criteria as they are now */
  criteria: readonly Criterion[];
  isOpenAtFirst: boolean;
}

/** A verdict, reason by reason: what was asked, what was found, how sure that is, and what would decide. */
export function VerdictReasons({ verdict, criteria, isOpenAtFirst }: VerdictReasonsProps) {
  const { reasons, odds, flags } = verdict.response as VerdictAnswer;
  return (
    <Stack gap={4}>
      <Group gap="sm">
        <VerdictBadge outcome={verdict.outcome} isStale={verdict.isStale} />
        <Text size="xs" c="dimmed" className="number">
          odds: passes {percent(odds.passes)}, falls short {percent(odds.fallsShort)}
          {odds.cannotSay > 0 ? `, cannot say ${percent(odds.cannotSay)}` : ''}; judged{' '}
          {momentText(verdict.madeAt)} with version {verdict.version}
        </Text>
      </Group>
      {verdict.isStale ? (
        <Text size="sm">
          This verdict is old: the facts, the criteria, the benchmark or the science have changed since. Judge
          again: what is old among the numbers is reduced again first.
        </Text>
      ) : null}
      {reasons.length === 0 ? (
        <Text size="sm" c="dimmed">
          The series asks nothing of a film yet.
        </Text>
      ) : (
        <Disclosure title={counted(reasons.length, 'reason')} isOpenAtFirst={isOpenAtFirst}>
          <ReasonTable reasons={reasons} criteria={verdict.isStale ? [] : criteria} />
          {flags.length > 0 ? (
            <List size="xs" c="dimmed">
              {flags.map(({ code, message }) => (
                <List.Item key={`${code} ${message}`}>{message}</List.Item>
              ))}
            </List>
          ) : null}
        </Disclosure>
      )}
    </Stack>
  );
}
