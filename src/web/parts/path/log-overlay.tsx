import {
  Group,
  List,
  Loader,
  NativeSelect,
  Paper,
  Stack,
  Table,
  Text,
  TextInput,
  Title,
} from '@mantine/core';
import { shortNumber } from '../../../charts/number-text.ts';
import { stepName, timeText } from '../../../charts/path/path-time-request.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { CHAMBER_LOG, type ChamberLog, type LogRow, logRows } from '../../path/path-log.ts';
import type { PathAnswer } from '../../path/path-request.ts';
import { Disclosure } from '../disclosure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';

/** Every chamber log of the series, those of a treatment first. */
export function chamberLogs(view: SeriesView, treatmentId: string): SeriesView['measurements'] {
  const logs = view.measurements.filter(({ body }) => (body.mapping.kind as string) === CHAMBER_LOG);
  const isOf = ({ body }: (typeof logs)[number]): boolean => body.stateTreatmentId === treatmentId;
  return [...logs.filter(isOf), ...logs.filter((log) => !isOf(log))];
}

const deviationText = (deviation: LogRow['temperature'], unit: string): string =>
  deviation === null
    ? 'not logged'
    : `${deviation.value > 0 ? '+' : ''}${shortNumber(deviation.value, 3)} ${unit} at ${timeText(deviation.atS)}`;

/** What growth.path said of the log, in words. */
function logSentences({ log, segments }: PathAnswer): string[] {
  if (!log) return [];
  const one = (name: string, unit: string, found: NonNullable<typeof log>['temperature']): string[] => {
    if (!found) return [];
    const { largest, atS, segment, rootMeanSquare, readings, missing, longestGapS, unseenSegments } = found;
    if (!largest || atS === null) return [`The log holds no reading of ${name}.`];
    const u = largest.standardUncertainty;
    const where =
      segment === null
        ? ' (past the last step)'
        : ` (step ${segment + 1}, ${stepName(segments[segment]?.kind ?? '')})`;
    return [
      `The logged ${name} is furthest from the command after ${timeText(atS)}${where}: ${largest.value > 0 ? '+' : ''}${shortNumber(largest.value, 3)}${u > 0 ? ` ± ${shortNumber(u, 2)}` : ''} ${unit}; root mean square ${shortNumber(rootMeanSquare ?? Number.NaN, 2)} ${unit} over ${readings} readings${missing > 0 ? `, ${missing} missing` : ''}.`,
      ...(unseenSegments.length > 0
        ? [
            `What happened to the ${name} in step ${unseenSegments.map((i) => i + 1).join(', ')} cannot be told: fewer than three readings lie there (longest gap ${timeText(longestGapS)}).`,
          ]
        : []),
    ];
  };
  return [...one('temperature', 'K', log.temperature), ...one('oxygen', 'decades', log.log10Po2)];
}

interface LogOverlayProps {
  view: SeriesView;
  treatmentId: string;
  logId: string;
  onChoose: (logId: string) => void;
  /** null while it is read, or where none is chosen */
  log: ChamberLog | null;
  isPending: boolean;
  error: Error | null;
  startText: string;
  startFault: string | undefined;
  onStart: (text: string) => void;
  answer: PathAnswer | null;
}

/** A chamber's log beside the plan: what was chosen, how far it lies, and what it cannot tell. */
export function LogOverlay(props: LogOverlayProps) {
  const { view, treatmentId, logId, onChoose, log, isPending, error, answer } = props;
  const logs = chamberLogs(view, treatmentId);
  const sentences = log && answer ? logSentences(answer) : [];
  const rows = log && answer ? logRows(answer, log.asked) : [];
  const stateOf = (stateTreatmentId: string | null): string => {
    const treatment = view.treatments.find(({ id }) => id === stateTreatmentId);
    return treatment ? `after ${treatment.body.label}` : 'as it left the run';
  };
  return (
    <Paper
      withBorder
      p="sm"
      component="section"
      aria-label="Chamber log beside the plan"
      className="no-print"
    >
      <Stack gap="sm">
        <Title order={2}>What the chamber logged</Title>
        {logs.length === 0 ? (
          <Text size="sm" c="dimmed">
            No chamber log in this series yet. Drop one on a piece under Files and say which columns are time,
            temperature and pressure; it is then laid over the plan.
          </Text>
        ) : (
          <Group align="flex-end" gap="sm">
            <NativeSelect
              label="Log laid over the plan"
              style={{ flex: '1 1 16rem' }}
              value={logId}
              data={[
                { value: '', label: 'none' },
                ...logs.map(({ id, body }) => ({
                  value: id,
                  label: `${body.label}: ${view.pieces.find((piece) => piece.id === body.pieceId)?.body.label ?? ''}, ${stateOf(body.stateTreatmentId)}`,
                })),
              ]}
              onChange={(event) => onChoose(event.currentTarget.value)}
            />
            {logId ? (
              <TextInput
                label="Plan starts, in the log's time"
                w={220}
                value={props.startText}
                placeholder={log ? `${shortNumber(log.firstS)} s, its first reading` : '0 s'}
                error={props.startFault}
                onChange={(event) => props.onStart(event.currentTarget.value)}
              />
            ) : null}
            {logId && isPending ? <Loader size="xs" aria-label="Reading the log" /> : null}
          </Group>
        )}
        <ProblemNotice error={error} />
        {logId && !isPending && !error && !log ? (
          <Text size="sm">This log has no column of time, so it cannot be laid over the plan.</Text>
        ) : null}
        {sentences.length > 0 ? (
          <List aria-label="Deviations that matter">
            {sentences.map((sentence) => (
              <List.Item key={sentence}>{sentence}</List.Item>
            ))}
          </List>
        ) : null}
        {rows.length > 0 ? (
          <Table.ScrollContainer minWidth={520}>
            <Table aria-label="Largest deviation in each step" verticalSpacing={3}>
              <Table.Thead>
                <Table.Tr>
                  <Table.Th>Step</Table.Th>
                  <Table.Th>Temperature, logged minus commanded</Table.Th>
                  <Table.Th>Oxygen, logged minus commanded</Table.Th>
                  <Table.Th ta="right">Readings</Table.Th>
                </Table.Tr>
              </Table.Thead>
              <Table.Tbody>
                {rows.map((row) => (
                  <Table.Tr key={row.step}>
                    <Table.Td>
                      {row.step} {stepName(row.kind)}
                    </Table.Td>
                    <Table.Td className="number">{deviationText(row.temperature, 'K')}</Table.Td>
                    <Table.Td className="number">{deviationText(row.log10Po2, 'decades')}</Table.Td>
                    <Table.Td ta="right" className="number">
                      {row.readings}
                      {row.isUnseen ? ', too few to tell' : ''}
                    </Table.Td>
                  </Table.Tr>
                ))}
              </Table.Tbody>
            </Table>
          </Table.ScrollContainer>
        ) : null}
        {log && log.remarks.length > 0 ? (
          <Disclosure title="What was assumed of the readings">
            <List size="sm">
              {log.remarks.map((remark) => (
                <List.Item key={remark}>{remark}</List.Item>
              ))}
            </List>
          </Disclosure>
        ) : null}
      </Stack>
    </Paper>
  );
}
