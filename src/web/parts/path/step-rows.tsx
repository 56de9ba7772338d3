import { ActionIcon, Button, Group, NativeSelect, Table, Text, TextInput } from '@mantine/core';
import { useEffect, useRef } from 'react';
import { pressureText } from '../../../charts/trade-text.ts';
import type { Chamber } from '../../../records/kinds.ts';
import {
  nextStep,
  type PathDraft,
  STEP_FIELDS,
  STEP_KINDS,
  type StepDraft,
  type StepKind,
} from '../../drafts/path-draft.ts';
import { movedSegment } from '../../drafts/segment-rows.ts';
import { type AnsweredStep, readingC } from '../../path/path-request.ts';
import { newId } from '../../records.ts';
import { type FormProps, shownFault } from '../record-forms/fields.ts';
import { PressureField } from '../record-forms/pressure-field.tsx';

interface StepRowsProps extends FormProps<PathDraft> {
  /** of the leading steps that can be read */
  placed: readonly AnsweredStep[];
  chamber: Chamber | null;
}

const KIND_WORDS: Readonly<Record<StepKind, string>> = {
  ramp: 'ramp',
  hold: 'hold',
  gas: 'gas change',
  deposit: 'deposit',
  cool: 'cool',
};

/** Where a step leaves the film, and what the chamber's sensor then reads. */
export function EndOfStep({
  placed,
  chamber,
}: {
  placed: AnsweredStep | undefined;
  chamber: Chamber | null;
}) {
  if (!placed) return null;
  const reading = readingC(placed.toC, chamber);
  return (
    <Text size="xs" className="number">
      {Number(placed.toC.toFixed(1))} °C, {pressureText(placed.toPo2Atm)}
      {reading === null ? '' : `; sensor reads ${Number(reading.toFixed(1))} °C`}
      {placed.depositionRateNmPerS ? `; ${Number(placed.depositionRateNmPerS.toPrecision(3))} nm/s` : ''}
    </Text>
  );
}

/** The steps of a plan, a row each; a row asks only for what its kind needs. */
export function StepRows(props: StepRowsProps) {
  const { draft, onChange, faults, placed, chamber, isTried } = props;
  const setRows = (steps: StepDraft[]) => onChange({ ...draft, steps });
  const table = useRef<HTMLTableElement>(null);
  const toFocus = useRef<number | null>(null);
  useEffect(() => {
    if (toFocus.current === null) return;
    table.current?.querySelectorAll<HTMLSelectElement>('select[data-kind]')[toFocus.current]?.focus();
    toFocus.current = null;
  });
  /** Changes the order or number of rows; the row meant keeps the focus, or its neighbour takes it. */
  const arrange = (steps: StepDraft[], focused: number) => {
    toFocus.current = Math.min(focused, steps.length - 1);
    setRows(steps);
  };
  const setRow = (i: number, change: Partial<StepDraft>) =>
    setRows(draft.steps.map((row, j) => (j === i ? { ...row, ...change } : row)));
  const input = (
    row: StepDraft,
    i: number,
    name: 'toC' | 'rate' | 'duration' | 'thicknessNm',
    label: string,
    unit = '',
  ) =>
    STEP_FIELDS[row.kind].includes(name) ? (
      <TextInput
        size="xs"
        aria-label={`${label} of step ${i + 1}`}
        value={row[name]}
        placeholder={name === 'duration' && row.rate.trim() === '' ? '5 min' : ''}
        {...(unit ? { rightSection: <Text size="xs">{unit}</Text>, rightSectionWidth: 30 } : {})}
        error={shownFault(props, `${i}.${name}`, row[name])}
        inputMode={name === 'duration' ? 'text' : 'decimal'}
        onChange={(event) => setRow(i, { [name]: event.currentTarget.value })}
      />
    ) : null;
  const end = (row: StepDraft, i: number) => {
    if (row.kind === 'gas')
      return (
        <PressureField
          label={`Oxygen pressure at the end of step ${i + 1}`}
          isLabelHidden
          value={row.po2}
          unit={row.po2Unit}
          error={shownFault(props, `${i}.po2`, row.po2)}
          onChange={(po2, po2Unit) => setRow(i, { po2, po2Unit })}
        />
      );
    if (row.kind === 'deposit') return input(row, i, 'thicknessNm', 'Thickness, nm,', 'nm');
    return input(row, i, 'toC', 'End temperature, °C,', '°C');
  };
  return (
    <>
      <Table.ScrollContainer minWidth={640}>
        <Table ref={table} verticalSpacing={3} horizontalSpacing={6} aria-label="Steps of the plan">
          <Table.Thead>
            <Table.Tr>
              {['', 'Step', 'To', 'K/min', 'or takes', 'Then', 'Order'].map((text, i) => (
                <Table.Th key={text || 'number'} w={i === 0 ? 24 : undefined}>
                  {text || <span className="visually-hidden">Number</span>}
                </Table.Th>
              ))}
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {draft.steps.map((row, i) => (
              <Table.Tr key={row.key} style={{ verticalAlign: 'top' }}>
                <Table.Td className="number">{i + 1}</Table.Td>
                <Table.Td miw={124}>
                  <NativeSelect
                    size="xs"
                    data-kind
                    aria-label={`Kind of step ${i + 1}`}
                    value={row.kind}
                    data={STEP_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))}
                    onChange={(event) => setRow(i, { kind: event.currentTarget.value as StepKind })}
                  />
                </Table.Td>
                <Table.Td miw={row.kind === 'gas' ? 150 : 90}>{end(row, i)}</Table.Td>
                <Table.Td w={76}>{input(row, i, 'rate', 'Rate, K/min,')}</Table.Td>
                <Table.Td w={92}>{input(row, i, 'duration', 'Duration')}</Table.Td>
                <Table.Td miw={110}>
                  <EndOfStep placed={placed[i]} chamber={chamber} />
                </Table.Td>
                <Table.Td>
                  <Group gap={0} wrap="nowrap">
                    <ActionIcon
                      variant="subtle"
                      color="gray"
                      aria-label={`Move step ${i + 1} up`}
                      disabled={i === 0}
                      onClick={() => arrange(movedSegment(draft.steps, i, -1), i - 1)}
                    >
                      ↑
                    </ActionIcon>
                    <ActionIcon
                      variant="subtle"
                      color="gray"
                      aria-label={`Move step ${i + 1} down`}
                      disabled={i === draft.steps.length - 1}
                      onClick={() => arrange(movedSegment(draft.steps, i, 1), i + 1)}
                    >
                      ↓
                    </ActionIcon>
                    <ActionIcon
                      variant="subtle"
                      color="gray"
                      aria-label={`Leave out step ${i + 1}`}
                      onClick={() =>
                        arrange(
                          draft.steps.filter((_, j) => j !== i),
                          i,
                        )
                      }
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
      {faults.segments && (isTried || draft.steps.length === 0) ? (
        <Text size="sm" c="var(--mantine-color-error)" role="alert">
          {faults.segments}
        </Text>
      ) : null}
      <Group mt="xs">
        <Button
          size="compact-sm"
          variant="light"
          onClick={() => arrange([...draft.steps, nextStep(newId(), draft.steps.at(-1))], draft.steps.length)}
        >
          Add a step
        </Button>
        <Text size="xs" c="dimmed">
          Times with their unit: 30 s, 5 min, 2 h. A gas change without a time is sudden.
        </Text>
      </Group>
    </>
  );
}
