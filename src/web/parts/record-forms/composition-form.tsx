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
import type { CationRatio } from '../../../records/common.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import {
  COMPOSITION_METHODS,
  type CompositionDraft,
  compositionDraftOf,
  type ElementRow,
  emptyComposition,
  readComposition,
} from '../../drafts/composition-draft.ts';
import { createRecord, newId, reviseRecord } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { type FormProps, shownFault, textFields } from './fields.ts';
import { RecordEditor } from './record-editor.tsx';

/** A measured cation ratio: an element a row, each with its uncertainty or one for all. */
function CompositionForm(props: FormProps<CompositionDraft>) {
  const { draft, onChange, faults, isTried } = props;
  const field = textFields(props);
  const setRows = (rows: ElementRow[]) => onChange({ ...draft, rows });
  const inCell = (row: ElementRow, i: number, name: 'element' | 'amount' | 'uncertainty', label: string) => ({
    'aria-label': `${label} of row ${i + 1}`,
    value: row[name],
    error: shownFault(props, `${i}.${name}`, row[name]),
    onChange: (event: { currentTarget: { value: string } }) =>
      setRows(draft.rows.map((each, j) => (j === i ? { ...row, [name]: event.currentTarget.value } : each))),
  });
  return (
    <Stack gap="xs">
      <Table.ScrollContainer minWidth={380}>
        <Table verticalSpacing={3} horizontalSpacing="xs" aria-label="Measured ratio" maw={560}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Element</Table.Th>
              <Table.Th>Amount</Table.Th>
              <Table.Th>± standard uncertainty</Table.Th>
              <Table.Th w={40}>
                <span className="visually-hidden">Leave out</span>
              </Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {draft.rows.map((row, i) => (
              <Table.Tr key={row.key} style={{ verticalAlign: 'top' }}>
                <Table.Td>
                  <TextInput {...inCell(row, i, 'element', 'Element')} maxLength={2} />
                </Table.Td>
                <Table.Td>
                  <TextInput {...inCell(row, i, 'amount', 'Amount')} inputMode="decimal" />
                </Table.Td>
                <Table.Td>
                  <TextInput
                    {...inCell(row, i, 'uncertainty', 'Uncertainty')}
                    inputMode="decimal"
                    placeholder={draft.relativePercent ? `${draft.relativePercent} % of it` : ''}
                  />
                </Table.Td>
                <Table.Td>
                  <ActionIcon
                    variant="subtle"
                    color="gray"
                    mt={4}
                    aria-label={`Leave out ${row.element || `row ${i + 1}`}`}
                    onClick={() => setRows(draft.rows.filter((_, j) => j !== i))}
                  >
                    ×
                  </ActionIcon>
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {isTried && faults.rows ? (
        <Text size="sm" c="var(--mantine-color-error)" role="alert">
          {faults.rows}
        </Text>
      ) : null}
      <Group>
        <Button
          size="compact-sm"
          variant="light"
          onClick={() => setRows([...draft.rows, { key: newId(), element: '', amount: '', uncertainty: '' }])}
        >
          Add an element
        </Button>
      </Group>
      <SimpleGrid cols={{ base: 2, sm: 3 }} spacing="sm" verticalSpacing="xs">
        <TextInput {...field('relativePercent', 'Uncertainty of all amounts, %')} inputMode="decimal" />
        <NativeSelect
          label="Method"
          value={draft.method}
          data={[...COMPOSITION_METHODS]}
          onChange={(event) =>
            onChange({ ...draft, method: event.currentTarget.value as CompositionDraft['method'] })
          }
        />
        <TextInput
          {...field('standard', 'Measured against')}
          placeholder="a film of known ratio; empty: without standard"
          maxLength={200}
        />
        <TextInput
          {...field('source', 'Where it stands')}
          placeholder="notebook page, report"
          maxLength={300}
        />
        <TextInput {...field('note', 'Note')} maxLength={20_000} />
      </SimpleGrid>
    </Stack>
  );
}

interface CompositionEditorProps {
  view: SeriesView;
  /** piece and state that was measured */
  pieceId: string;
  pieceLabel: string;
  stateTreatmentId: string | null;
  /** facts that hold it already; null: a new measurement */
  facts: SeriesView['typedFacts'][number] | null;
  /** what the film is meant to be: its elements are the first rows */
  cations: CationRatio | null;
  onClose: () => void;
}

/** Writes down a measured composition among the typed facts of a state; what else they hold stays. */
export function CompositionEditor(props: CompositionEditorProps) {
  const { view, pieceId, pieceLabel, stateTreatmentId, facts, cations, onClose } = props;
  const announce = useSayDone();
  return (
    <RecordEditor
      of={`Measured composition of ${pieceLabel}`}
      initial={facts?.body.composition ? compositionDraftOf(facts.body) : emptyComposition(cations)}
      {...(facts ? { revision: facts.revision } : {})}
      read={(draft) => readComposition(draft, { pieceId, stateTreatmentId }, facts?.body ?? null)}
      form={(form) => <CompositionForm {...form} />}
      save={async (body) => {
        const changeId = newId();
        if (facts) await reviseRecord(facts, body, changeId);
        else await createRecord({ kind: 'typedFacts', seriesId: view.series.id, body, changeId });
        announce(
          stateTreatmentId === null
            ? `Wrote down the composition of ${pieceLabel}. The transfer factors of the target page now use it.`
            : `Wrote down the composition of ${pieceLabel}. The target page now proposes losses in heating from it.`,
          [changeId],
        );
      }}
      onClose={onClose}
    />
  );
}
