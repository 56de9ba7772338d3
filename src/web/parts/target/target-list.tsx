import { Button, Group, Paper, Stack, Table, Text, VisuallyHidden } from '@mantine/core';
import { ratioText } from '../../../charts/trade-text.ts';
import { targetBatch } from '../../../computations/target/batch.ts';
import type { StoredRecord } from '../../../records/kinds.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { filmAimOf } from '../../drafts/kept-target.ts';
import { sinterAnswerOf } from '../../drafts/sintering-draft.ts';
import type { BatchAsk } from '../../drafts/target-draft.ts';
import { usePredictOxygen } from '../../keep-target.ts';
import { newId, removeRecord, useChange } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { Disclosure } from '../disclosure.tsx';
import { ProblemNotice } from '../problem-notice.tsx';
import type { BatchAnswer } from './batch-answer.ts';
import { BatchSheet } from './batch-sheet.tsx';
import { OxygenState, oxygenText } from './oxygen-state.tsx';
import { SlipPanel } from './slip-panel.tsx';

type TargetRecord = SeriesView['targets'][number];

interface TargetListProps {
  view: SeriesView;
  onCopy: (target: TargetRecord) => void;
  /** the target whose sheet stands open, if any */
  openId: string | null;
  onOpen: (targetId: string | null) => void;
}

/** Lots of a stored sheet: they were stored in the order of the powders. */
function lotsOf(target: TargetRecord, view: SeriesView) {
  return target.body.lotIds.map((lotId) => view.lots.find(({ id }) => id === lotId)?.body);
}

/** Targets kept so far; a sheet opens as it was made. */
export function TargetList({ view, onCopy, openId, onOpen }: TargetListProps) {
  const announce = useSayDone();
  const remove = useChange(async (target: TargetRecord) => {
    const changeId = newId();
    await removeRecord(target, changeId);
    announce(`Removed target ${target.body.label}.`, [changeId]);
  });
  const predict = usePredictOxygen();
  if (view.targets.length === 0) {
    return (
      <Text size="sm" c="dimmed">
        No target is kept yet.
      </Text>
    );
  }
  const open = view.targets.find(({ id }) => id === openId);
  const sheet = open?.body.sheet;
  const openOxygen = open ? sinterAnswerOf(open.body) : null;
  return (
    <Stack gap="sm">
      <Table.ScrollContainer minWidth={720} className="no-print">
        <Table aria-label="Targets">
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Target</Table.Th>
              <Table.Th>Cation ratio</Table.Th>
              <Table.Th>Oxygen after firing</Table.Th>
              <Table.Th>Runs</Table.Th>
              <Table.Th>Sheet</Table.Th>
              <Table.Th>
                <VisuallyHidden>Actions</VisuallyHidden>
              </Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {view.targets.map((target) => {
              const { label, cations, sheet: kept, sinterGas } = target.body;
              const oxygen = sinterAnswerOf(target.body);
              const runs = view.runs.filter(({ body }) => body.targetId === target.id);
              const isOpen = target.id === openId;
              return (
                <Table.Tr key={target.id}>
                  <Table.Td style={{ overflowWrap: 'anywhere' }}>{label}</Table.Td>
                  <Table.Td className="number">{ratioText(cations)}</Table.Td>
                  <Table.Td className="number" style={{ overflowWrap: 'anywhere' }}>
                    {oxygen ? (
                      oxygenText(oxygen)
                    ) : target.body.sintering ? (
                      <Group gap={4}>
                        not predicted yet
                        <Button
                          size="compact-xs"
                          variant="subtle"
                          aria-label={`Predict the oxygen of ${label}`}
                          loading={predict.isPending && predict.variables?.id === target.id}
                          onClick={() => predict.mutate(target as StoredRecord<'target'>)}
                        >
                          Predict
                        </Button>
                      </Group>
                    ) : sinterGas ? (
                      `fired in ${sinterGas}, steps not recorded`
                    ) : (
                      'firing not recorded'
                    )}
                  </Table.Td>
                  <Table.Td className="number">{runs.length}</Table.Td>
                  <Table.Td>
                    {kept ? (
                      <Button
                        size="compact-xs"
                        variant="subtle"
                        aria-expanded={isOpen}
                        aria-label={`${isOpen ? 'Close' : 'Open'} the sheet of ${label}`}
                        onClick={() => onOpen(isOpen ? null : target.id)}
                      >
                        {isOpen ? 'Close' : 'Open'}
                      </Button>
                    ) : (
                      <Text span size="sm" c="dimmed">
                        none
                      </Text>
                    )}
                  </Table.Td>
                  <Table.Td>
                    <Group gap={4} justify="flex-end">
                      <Button
                        size="compact-xs"
                        variant="subtle"
                        aria-label={`Weigh ${label} again`}
                        onClick={() => onCopy(target)}
                      >
                        Weigh again
                      </Button>
                      <Button
                        size="compact-xs"
                        variant="subtle"
                        color="gray"
                        aria-label={`Remove ${label}`}
                        onClick={() => remove.mutate(target)}
                      >
                        Remove
                      </Button>
                    </Group>
                  </Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <ProblemNotice error={remove.error ?? predict.error} />
      {open && sheet ? (
        <Paper withBorder p="md">
          <BatchSheet
            title={`Target ${open.body.label}`}
            request={sheet.request as BatchAsk}
            response={sheet.response as BatchAnswer}
            film={filmAimOf(open.body)}
            lotNumbers={lotsOf(open, view).map((lot) => lot?.lotNumber ?? '')}
            dryingC={lotsOf(open, view).map((lot) => lot?.dryingC ?? null)}
            powders={view.powders}
            segments={open.body.sintering?.segments ?? []}
            sinterGas={open.body.sinterGas}
            version={sheet.version}
            note={open.body.note}
          />
          {sheet.version === targetBatch.version ? null : (
            <Text size="sm" fw={600}>
              Old: made with version {sheet.version}, now {targetBatch.version}. Weigh it again to compare.
            </Text>
          )}
          <Stack gap="xs" mt="xs" className="no-print">
            {openOxygen ? <OxygenState answer={openOxygen} /> : null}
            <Disclosure title="If one weighing slipped">
              <SlipPanel
                key={open.id}
                request={sheet.request as BatchAsk}
                response={sheet.response as BatchAnswer}
                rareEarth={view.series.body.rareEarths[0]!}
              />
            </Disclosure>
          </Stack>
          <Group justify="flex-end" mt="xs" className="no-print">
            <Button size="compact-sm" variant="light" onClick={() => window.print()}>
              Print this sheet
            </Button>
          </Group>
        </Paper>
      ) : null}
    </Stack>
  );
}
