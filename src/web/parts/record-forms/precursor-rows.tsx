import {
  ActionIcon,
  Autocomplete,
  Button,
  Group,
  NativeSelect,
  Table,
  Text,
  TextInput,
  VisuallyHidden,
} from '@mantine/core';
import type { SeriesView } from '../../../records/series-view.ts';
import { PRECURSORS } from '../../../science/tables/precursors.ts';
import {
  cationsOfFormula,
  type PrecursorDraft,
  precursorFromLibrary,
  precursorFromLot,
  proposedPrecursors,
} from '../../drafts/target-draft.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';
import { newId } from '../../records.ts';

interface PrecursorRowsProps {
  rows: readonly PrecursorDraft[];
  onChange: (rows: PrecursorDraft[]) => void;
  lots: SeriesView['lots'];
  faults: Faults;
  /** wanted cations that no row brings */
  missing: readonly string[];
}

const LIBRARY: readonly string[] = PRECURSORS.records.map(({ formula }) => formula);

/** The powders of a batch: which compound, how pure, how dry, of which lot. */
export function PrecursorRows({ rows, onChange, lots, faults, missing }: PrecursorRowsProps) {
  const setRow = (i: number, row: PrecursorDraft) => onChange(rows.map((each, j) => (j === i ? row : each)));
  // a lot stands for what its record says: once a number differs, it is a powder typed here
  const edit = (i: number, change: Partial<PrecursorDraft>) =>
    setRow(i, { ...rows[i]!, lotId: '', ...change });
  const pickFormula = (i: number, formula: string) => {
    const known = LIBRARY.includes(formula) && formula !== rows[i]!.formula;
    edit(i, known ? { ...precursorFromLibrary(rows[i]!.key, formula) } : { formula });
  };
  return (
    <div>
      <Table.ScrollContainer minWidth={700}>
        <Table verticalSpacing={4} horizontalSpacing="xs" layout="fixed" aria-label="Powders">
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Recorded lot</Table.Th>
              <Table.Th>Formula</Table.Th>
              <Table.Th w={80}>Brings</Table.Th>
              <Table.Th>Purity, % by mass</Table.Th>
              <Table.Th>Loss on drying, %</Table.Th>
              <Table.Th>Lot number</Table.Th>
              <Table.Th w={40}>
                <VisuallyHidden>Leave out</VisuallyHidden>
              </Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {rows.map((row, i) => (
              <Table.Tr key={row.key} style={{ verticalAlign: 'top' }}>
                <Table.Td>
                  <NativeSelect
                    aria-label={`Recorded lot of powder ${i + 1}`}
                    value={row.lotId}
                    data={[
                      { value: '', label: 'typed here' },
                      ...lots.map(({ id, body }) => ({ value: id, label: body.label })),
                    ]}
                    onChange={(event) => {
                      const lot = lots.find(({ id }) => id === event.currentTarget.value);
                      setRow(i, lot ? precursorFromLot(row.key, lot) : { ...row, lotId: '' });
                    }}
                  />
                </Table.Td>
                <Table.Td>
                  <Autocomplete
                    aria-label={`Formula of powder ${i + 1}`}
                    value={row.formula}
                    data={[...LIBRARY]}
                    error={faults[`${i}.formula`]}
                    onChange={(formula) => pickFormula(i, formula)}
                    limit={12}
                  />
                </Table.Td>
                <Table.Td>
                  <Text size="sm" pt={7}>
                    {cationsOfFormula(row.formula).join(', ')}
                  </Text>
                </Table.Td>
                <Table.Td>
                  <TextInput
                    aria-label={`Purity of powder ${i + 1}, % by mass`}
                    inputMode="decimal"
                    value={row.purityPercent}
                    error={faults[`${i}.purityPercent`]}
                    onChange={(event) => edit(i, { purityPercent: event.currentTarget.value })}
                  />
                </Table.Td>
                <Table.Td>
                  <TextInput
                    aria-label={`Loss on drying of powder ${i + 1}, %`}
                    inputMode="decimal"
                    value={row.lossPercent}
                    error={faults[`${i}.lossPercent`]}
                    onChange={(event) => edit(i, { lossPercent: event.currentTarget.value })}
                  />
                </Table.Td>
                <Table.Td>
                  <TextInput
                    aria-label={`Lot number of powder ${i + 1}`}
                    value={row.lotNumber}
                    maxLength={100}
                    onChange={(event) => edit(i, { lotNumber: event.currentTarget.value })}
                  />
                </Table.Td>
                <Table.Td>
                  <ActionIcon
                    variant="subtle"
                    color="gray"
                    mt={4}
                    aria-label={`Leave out ${row.formula || `powder ${i + 1}`}`}
                    onClick={() => onChange(rows.filter((_, j) => j !== i))}
                  >
                    ×
                  </ActionIcon>
                </Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {faults.precursors ? (
        <Text size="sm" c="var(--mantine-color-error)" role="alert">
          {faults.precursors}
        </Text>
      ) : null}
      <Group gap="xs" mt={4}>
        {missing.map((cation) => (
          <Button
            key={cation}
            size="compact-sm"
            variant="light"
            onClick={() =>
              onChange([
                ...rows,
                ...proposedPrecursors({ [cation]: 1 }, lots).map((row) => ({ ...row, key: newId() })),
              ])
            }
          >
            Add a powder for {cation}
          </Button>
        ))}
        <Button
          size="compact-sm"
          variant="subtle"
          onClick={() => onChange([...rows, precursorFromLibrary(newId(), '')])}
        >
          Add a powder
        </Button>
      </Group>
    </div>
  );
}
