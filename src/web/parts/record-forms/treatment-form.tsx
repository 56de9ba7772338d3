import {
  ActionIcon,
  Button,
  Group,
  NativeSelect,
  SimpleGrid,
  Stack,
  Table,
  Text,
  TextInput,
} from '@mantine/core';
import { useMemo } from 'react';
import type { SeriesView } from '../../../records/series-view.ts';
import {
  movedSegment,
  nextSegment,
  readTreatment,
  SEGMENT_KINDS,
  type SegmentDraft,
  segmentDraftOf,
  type TreatmentDraft,
} from '../../drafts/treatment-draft.ts';
import { newId } from '../../records.ts';
import { Cautions, workCautions } from '../cautions.tsx';
import { Disclosure } from '../disclosure.tsx';
import { PathFigure } from '../path-figure.tsx';
import { type FormProps, shownFault, textFields } from './fields.ts';
import { PressureField } from './pressure-field.tsx';

interface TreatmentFormProps extends FormProps<TreatmentDraft> {
  /** paths that may be copied from */
  known: SeriesView['treatments'];
}

const HEAD = ['Step', 'Ends at, °C', 'Takes', 'Oxygen pressure', 'Gas'] as const;

/** A heat and gas path, a step a row, drawn while it is typed. */
export function TreatmentForm(props: TreatmentFormProps) {
  const { draft, onChange, faults, known } = props;
  const field = textFields(props);
  const setRows = (segments: SegmentDraft[]) => onChange({ ...draft, segments });
  const setRow = (i: number, change: Partial<SegmentDraft>) =>
    setRows(draft.segments.map((row, j) => (j === i ? { ...row, ...change } : row)));
  const { readable } = useMemo(() => readTreatment(draft, ''), [draft]);
  const inCell = (row: SegmentDraft, i: number, name: 'toC' | 'duration' | 'gas', label: string) => ({
    'aria-label': `${label} of step ${i + 1}`,
    value: row[name],
    error: shownFault(props, `${i}.${name}`, row[name]),
    onChange: (event: { currentTarget: { value: string } }) =>
      setRow(i, { [name]: event.currentTarget.value }),
  });
  return (
    <Stack gap="xs">
      <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="sm" verticalSpacing="xs">
        <TextInput {...field('label', 'Name of the treatment')} required maxLength={200} />
        <TextInput {...field('startedAt', 'Started, local time')} type="datetime-local" />
        <TextInput {...field('note', 'Note')} maxLength={20_000} />
        <NativeSelect
          label="Copy the steps of"
          value=""
          disabled={known.length === 0}
          data={[
            { value: '', label: known.length === 0 ? 'no path yet' : 'choose a path' },
            ...known.map(({ id, body }) => ({ value: id, label: body.label })),
          ]}
          onChange={(event) => {
            const from = known.find(({ id }) => id === event.currentTarget.value);
            if (from) setRows(from.body.segments.map((segment) => segmentDraftOf(segment, newId())));
          }}
        />
      </SimpleGrid>
      <Table.ScrollContainer minWidth={720}>
        <Table verticalSpacing={4} horizontalSpacing="xs" aria-label="Steps of the path">
          <Table.Thead>
            <Table.Tr>
              {HEAD.map((text) => (
                <Table.Th key={text}>{text}</Table.Th>
              ))}
              <Table.Th>
                <Text span size="sm" fw={600}>
                  Order
                </Text>
              </Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {draft.segments.map((row, i) => (
              <Table.Tr key={row.key} style={{ verticalAlign: 'top' }}>
                <Table.Td miw={130}>
                  <NativeSelect
                    aria-label={`Kind of step ${i + 1}`}
                    value={row.kind}
                    data={[...SEGMENT_KINDS]}
                    onChange={(event) =>
                      setRow(i, { kind: event.currentTarget.value as SegmentDraft['kind'] })
                    }
                  />
                </Table.Td>
                <Table.Td>
                  <TextInput {...inCell(row, i, 'toC', 'End temperature, °C,')} inputMode="decimal" />
                </Table.Td>
                <Table.Td>
                  <TextInput {...inCell(row, i, 'duration', 'Duration')} placeholder="5 min" />
                </Table.Td>
                <Table.Td miw={170}>
                  <PressureField
                    label={`oxygen pressure of step ${i + 1}`}
                    isLabelHidden
                    value={row.po2}
                    unit={row.po2Unit}
                    error={shownFault(props, `${i}.po2`, row.po2)}
                    onChange={(po2, po2Unit) => setRow(i, { po2, po2Unit })}
                  />
                </Table.Td>
                <Table.Td>
                  <TextInput {...inCell(row, i, 'gas', 'Gas')} maxLength={100} />
                </Table.Td>
                <Table.Td>
                  <Group gap={2} wrap="nowrap">
                    <ActionIcon
                      variant="subtle"
                      color="gray"
                      aria-label={`Move step ${i + 1} up`}
                      disabled={i === 0}
                      onClick={() => setRows(movedSegment(draft.segments, i, -1))}
                    >
                      ↑
                    </ActionIcon>
                    <ActionIcon
                      variant="subtle"
                      color="gray"
                      aria-label={`Move step ${i + 1} down`}
                      disabled={i === draft.segments.length - 1}
                      onClick={() => setRows(movedSegment(draft.segments, i, 1))}
                    >
                      ↓
                    </ActionIcon>
                    <ActionIcon
                      variant="subtle"
                      color="gray"
                      aria-label={`Leave out step ${i + 1}`}
                      onClick={() => setRows(draft.segments.filter((_, j) => j !== i))}
                    >
                      ×
                    </ActionIcon>
                  </Group>
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {props.isTried && faults.segments ? (
        <Text size="sm" c="var(--mantine-color-error)" role="alert">
          {faults.segments}
        </Text>
      ) : null}
      <Group>
        <Button
          size="compact-sm"
          variant="light"
          onClick={() => setRows([...draft.segments, nextSegment(newId(), draft.segments.at(-1))])}
        >
          Add a step
        </Button>
        <Text size="xs" c="dimmed">
          Begins at 25 °C. Times with their unit: 30 s, 5 min, 2 h. Oxygen pressure 0: none.
        </Text>
      </Group>
      {readable.length > 0 ? (
        <PathFigure title={draft.label || 'Heat and gas path'} segments={readable} />
      ) : null}
      <Disclosure title="Cautions for this work: furnace, pressurised oxygen">
        <Cautions cautions={workCautions(['furnace', 'oxygen'])} />
      </Disclosure>
    </Stack>
  );
}
