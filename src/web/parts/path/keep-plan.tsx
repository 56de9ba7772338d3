import {
  Button,
  Fieldset,
  Group,
  SimpleGrid,
  Stack,
  Table,
  Text,
  Textarea,
  TextInput,
  Title,
} from '@mantine/core';
import { useState } from 'react';
import { counted } from '../../../charts/number-text.ts';
import { timeText } from '../../../charts/path/path-time-request.ts';
import { ratioText } from '../../../charts/trade-text.ts';
import type { PathPlan, StoredRecord } from '../../../records/kinds.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { placeSegments } from '../../../science/growth/path.ts';
import { faultSentences } from '../../drafts/field-names.ts';
import { nextName } from '../../drafts/names.ts';
import { type PathDraft, pathDraftOf } from '../../drafts/path-draft.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';
import { createRecord, newId, reviseRecord, useChange } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { ProblemNotice } from '../problem-notice.tsx';
import { RecordActions } from '../record-actions.tsx';
import { FaultList } from '../record-forms/fault-list.tsx';
import { textFields } from '../record-forms/fields.ts';

type PlanRecord = StoredRecord<'pathPlan'>;

interface KeepPlanProps {
  view: SeriesView;
  draft: PathDraft;
  onChange: (draft: PathDraft) => void;
  /** null while it cannot be read */
  plan: PathPlan | null;
  faults: Faults;
  /** the answer of the science where it refused the path */
  refusal: string | null;
  attempts: number;
  onAttempt: () => void;
  onKept: () => void;
}

/** Keeps the plan under a name, as a new one or in place of the one it was opened from. */
export function KeepPlan(props: KeepPlanProps) {
  const { view, draft, onChange, plan, faults, refusal, attempts, onAttempt, onKept } = props;
  const announce = useSayDone();
  const plans = view.pathPlans as PlanRecord[];
  const kept = plans.find(({ id }) => id === draft.planId) ?? null;
  const label = draft.label.trim();
  const nameFaults = (others: readonly PlanRecord[]): Faults => ({
    ...(label === '' ? { label: 'Found nothing; expected a name of the plan, such as fast 780.' } : {}),
    ...(others.some(({ body }) => body.label === label)
      ? { label: `Found ${label}, which is taken; expected a name of its own.` }
      : {}),
    ...(refusal ? { segments: refusal } : {}),
    ...faults,
  });
  const asNew = nameFaults(plans);
  const asKept = nameFaults(plans.filter(({ id }) => id !== kept?.id));
  const [way, setWay] = useState<'new' | 'kept'>('new');
  const sentences = faultSentences('Plan', way === 'kept' && kept ? asKept : asNew);
  const keep = useChange(async (into: PlanRecord | null) => {
    const changeId = newId();
    const body = plan!;
    const record = into
      ? await reviseRecord(into, body, changeId)
      : await createRecord({ kind: 'pathPlan', seriesId: view.series.id, body, changeId });
    announce(`${into ? 'Changed' : 'Kept'} plan ${label}.`, [changeId]);
    onChange({ ...draft, planId: record.id });
    onKept();
  });
  const attempt = (into: PlanRecord | null) => {
    setWay(into ? 'kept' : 'new');
    onAttempt();
    if (plan && Object.keys(into ? asKept : asNew).length === 0) keep.mutate(into);
  };
  const field = textFields({
    draft,
    onChange,
    faults: way === 'kept' && kept ? asKept : asNew,
    isTried: attempts > 0,
  });
  return (
    <form
      noValidate
      aria-label="Keep the plan"
      onSubmit={(event) => {
        event.preventDefault();
        attempt(kept);
      }}
    >
      <Fieldset legend="Keep it" variant="filled">
        <Stack gap="sm">
          <SimpleGrid cols={{ base: 1, sm: 2 }} spacing="sm">
            <TextInput
              {...field('label', 'Name of the plan')}
              error={attempts > 0 ? field('label', '').error : undefined}
              required
              maxLength={200}
            />
            <Textarea {...field('note', 'Note')} autosize minRows={1} maxLength={20_000} />
          </SimpleGrid>
          <Group>
            <Button type="submit" loading={keep.isPending}>
              {kept ? 'Keep the changes' : 'Keep the plan'}
            </Button>
            {kept ? (
              <Button variant="light" onClick={() => attempt(null)}>
                Keep as a new plan
              </Button>
            ) : null}
          </Group>
          <FaultList sentences={sentences} attempts={attempts} />
          <ProblemNotice error={keep.error} />
        </Stack>
      </Fieldset>
    </form>
  );
}

/** `7 steps, 1.6 h, to 780 °C`; what a plan kept by other rules says is left out. */
function courseText({ start, segments }: PathPlan): string {
  const steps = counted(segments.length, 'step');
  try {
    const placed = placeSegments(start, segments);
    const hottest = Math.max(start.temperatureC, ...placed.map(({ toC }) => toC));
    return `${steps}, ${timeText(placed.at(-1)!.endS)}, to ${Number(hottest.toFixed(0))} °C`;
  } catch {
    return steps; // kept under other limits: opening it says what is wrong
  }
}

interface PlanListProps {
  view: SeriesView;
  openId: string;
  onOpen: (draft: PathDraft) => void;
}

/** The plans that are kept, to be opened, copied or removed. */
export function PlanList({ view, openId, onOpen }: PlanListProps) {
  const plans = view.pathPlans as PlanRecord[];
  const labels = plans.map(({ body }) => body.label);
  return (
    <Stack gap="xs" component="section" aria-label="Plans of this series" className="no-print">
      <Title order={2}>Plans of this series</Title>
      {plans.length === 0 ? (
        <Text size="sm" c="dimmed">
          None kept yet. A kept plan can be opened, copied with one number changed, and driven with a piece.
        </Text>
      ) : (
        <Table.ScrollContainer minWidth={640}>
          <Table aria-label="Kept plans" verticalSpacing={3}>
            <Table.Thead>
              <Table.Tr>
                {['Plan', 'Film', 'Path', 'Chamber', 'Driven', ''].map((text) => (
                  <Table.Th key={text}>{text || <span className="visually-hidden">Change</span>}</Table.Th>
                ))}
              </Table.Tr>
            </Table.Thead>
            <Table.Tbody>
              {plans.map((plan) => {
                const { label, cations, chamberId } = plan.body;
                const driven = view.treatments.filter(({ body }) => body.planId === plan.id).length;
                return (
                  <Table.Tr key={plan.id} style={{ verticalAlign: 'top' }}>
                    <Table.Td style={{ overflowWrap: 'anywhere' }} fw={plan.id === openId ? 700 : undefined}>
                      {label}
                      {plan.id === openId ? ' (open)' : ''}
                    </Table.Td>
                    <Table.Td>{cations ? ratioText(cations) : 'not stated'}</Table.Td>
                    <Table.Td className="number">{courseText(plan.body)}</Table.Td>
                    <Table.Td style={{ overflowWrap: 'anywhere' }}>
                      {view.chambers.find(({ id }) => id === chamberId)?.body.label ?? 'none'}
                    </Table.Td>
                    <Table.Td className="number">
                      {driven === 0 ? 'not yet' : driven === 1 ? 'once' : `${driven} times`}
                    </Table.Td>
                    <Table.Td>
                      <Group gap={4} wrap="nowrap">
                        <Button
                          size="compact-xs"
                          variant="subtle"
                          style={{ flexShrink: 0 }}
                          aria-label={`Copy plan ${label}`}
                          onClick={() =>
                            onOpen({
                              ...pathDraftOf('', plan.body),
                              label: nextName(label, labels),
                            })
                          }
                        >
                          Copy
                        </Button>
                        <RecordActions
                          record={plan}
                          name={`plan ${label}`}
                          onEdit={() => onOpen(pathDraftOf(plan.id, plan.body))}
                        />
                      </Group>
                    </Table.Td>
                  </Table.Tr>
                );
              })}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </Stack>
  );
}
