import { Group, List, Loader, NativeSelect, Paper, Stack, Text, Title } from '@mantine/core';
import { counted } from '../../../charts/number-text.ts';
import { timeText } from '../../../charts/path/path-time-request.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { quantityText } from '../../drafts/answer-words.ts';
import { CHAMBER_LOG, type ChamberLog, type ComparedLog } from '../../path/path-log.ts';
import { Disclosure } from '../disclosure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';

/** Every chamber log of the series, those of a treatment first. */
export function chamberLogs(view: SeriesView, treatmentId: string): SeriesView['measurements'] {
  const logs = view.measurements.filter(({ body }) => (body.mapping.kind as string) === CHAMBER_LOG);
  const isOf = ({ body }: (typeof logs)[number]): boolean => body.stateTreatmentId === treatmentId;
  return [...logs.filter(isOf), ...logs.filter((log) => !isOf(log))];
}

/** Where on the log the plan begins, in words. */
function startText({ alignment }: ComparedLog): string {
  if (!alignment) return 'Where on the log the plan begins could not be found.';
  const { offset, ramps, otherOffsetS } = alignment;
  const other = otherOffsetS === null ? '' : `; it could as well begin ${timeText(otherOffsetS)} into it`;
  const by =
    ramps > 0 ? `by ${counted(ramps, 'ramp')} of both` : 'though nothing in its temperature fixes that';
  const size = quantityText({ ...offset, value: Math.abs(offset.value) }, 's');
  return offset.value < 0
    ? `The log begins ${size} after the plan does, ${by}${other}.`
    : `The plan begins ${size} into the log, ${by}${other}.`;
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
  /** null while the log is compared with the plan, or where it cannot be */
  compared: ComparedLog | null;
}

/** A chamber's log beside the plan: what was chosen, how far it lies, and what it cannot tell. */
export function LogOverlay(props: LogOverlayProps) {
  const { view, treatmentId, logId, onChoose, log, isPending, error, compared } = props;
  const logs = chamberLogs(view, treatmentId);
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
            {logId && isPending ? <Loader size="xs" aria-label="Reading the log" /> : null}
          </Group>
        )}
        <ProblemNotice error={error} />
        {logId && !isPending && !error && !log ? (
          <Text size="sm">
            This log has no column of time or of temperature, so it cannot be laid over the plan.
          </Text>
        ) : null}
        {log && compared ? (
          <>
            {compared.deviations.length === 0 ? (
              <Text fw={600}>Nothing that matters: the log follows the plan.</Text>
            ) : (
              <List aria-label="Deviations that matter" spacing={4}>
                {compared.deviations.map(({ sentence }) => (
                  <List.Item key={sentence}>{sentence.replaceAll('segment', 'step')}</List.Item>
                ))}
              </List>
            )}
            <Text size="sm" className="number">
              {startText(compared)}
            </Text>
          </>
        ) : null}
        {log ? (
          <Disclosure title="What was assumed of the readings">
            <List size="sm">
              {[...log.remarks, ...(compared?.flags ?? []).map(({ message }) => message)].map((remark) => (
                <List.Item key={remark}>{remark}</List.Item>
              ))}
            </List>
          </Disclosure>
        ) : null}
      </Stack>
    </Paper>
  );
}
