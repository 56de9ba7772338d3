import { ActionIcon, Button, Group, NativeSelect, Table, Text, TextInput } from '@mantine/core';
import { movedSegment, nextSegment, SEGMENT_KINDS, type SegmentDraft } from '../../drafts/segment-rows.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';
import { newId } from '../../records.ts';
import { shownFault } from './fields.ts';
import { PressureField } from './pressure-field.tsx';

const HEAD = ['Step', 'Ends at, °C', 'Takes', 'Oxygen pressure', 'Gas'] as const;

interface SegmentRowsProps {
  rows: readonly SegmentDraft[];
  onChange: (rows: SegmentDraft[]) => void;
  faults: Faults;
  isTried: boolean;
  /** of the fields of faults: `step.` for `step.0.toC` */
  prefix?: string;
}

/** The steps of a heat and gas path, a step a row. */
export function SegmentRows({ rows, onChange, faults, isTried, prefix = '' }: SegmentRowsProps) {
  const setRow = (i: number, change: Partial<SegmentDraft>) =>
    onChange(rows.map((row, j) => (j === i ? { ...row, ...change } : row)));
  const faultOf = (i: number, name: string, text: string) =>
    shownFault({ faults, isTried }, `${prefix}${i}.${name}`, text);
  const inCell = (row: SegmentDraft, i: number, name: 'toC' | 'duration' | 'gas', label: string) => ({
    'aria-label': `${label} of step ${i + 1}`,
    value: row[name],
    error: faultOf(i, name, row[name]),
    onChange: (event: { currentTarget: { value: string } }) =>
      setRow(i, { [name]: event.currentTarget.value }),
  });
  return (
    <>
      {rows.length === 0 && prefix !== '' ? null : (
        <Table.ScrollContainer minWidth={620}>
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
              {rows.map((row, i) => (
                <Table.Tr key={row.key} style={{ verticalAlign: 'top' }}>
                  <Table.Td miw={112}>
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
                  <Table.Td miw={150}>
                    <PressureField
                      label={`oxygen pressure of step ${i + 1}`}
                      isLabelHidden
                      value={row.po2}
                      unit={row.po2Unit}
                      error={faultOf(i, 'po2', row.po2)}
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
                        onClick={() => onChange(movedSegment(rows, i, -1))}
                      >
                        ↑
                      </ActionIcon>
                      <ActionIcon
                        variant="subtle"
                        color="gray"
                        aria-label={`Move step ${i + 1} down`}
                        disabled={i === rows.length - 1}
                        onClick={() => onChange(movedSegment(rows, i, 1))}
                      >
                        ↓
                      </ActionIcon>
                      <ActionIcon
                        variant="subtle"
                        color="gray"
                        aria-label={`Leave out step ${i + 1}`}
                        onClick={() => onChange(rows.filter((_, j) => j !== i))}
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
      )}
      {isTried && faults.segments ? (
        <Text size="sm" c="var(--mantine-color-error)" role="alert">
          {faults.segments}
        </Text>
      ) : null}
      <Group>
        <Button
          size="compact-sm"
          variant="light"
          onClick={() => onChange([...rows, nextSegment(newId(), rows.at(-1))])}
        >
          Add a step
        </Button>
        <Text size="xs" c="dimmed">
          Begins at 25 °C. Times with their unit: 30 s, 5 min, 2 h. Oxygen pressure 0: none.
        </Text>
      </Group>
    </>
  );
}
