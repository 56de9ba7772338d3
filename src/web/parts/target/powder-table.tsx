import { Button, Group, Stack, Text } from '@mantine/core';
import type { SeriesView } from '../../../records/series-view.ts';
import { type PrecursorDraft, precursorFromLibrary, proposedPrecursors } from '../../drafts/powder-rows.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';
import { newId } from '../../records.ts';
import { PowderFields } from './powder-fields.tsx';

interface PowderTableProps {
  rows: readonly PrecursorDraft[];
  onChange: (rows: PrecursorDraft[]) => void;
  lots: SeriesView['lots'];
  powders: SeriesView['powders'];
  faults: Faults;
  /** wanted cations that no row brings */
  missing: readonly string[];
}

/** The powders of a batch: which compound, what is known of it, how dry, of which lot. */
export function PowderTable({ rows, onChange, lots, powders, faults, missing }: PowderTableProps) {
  return (
    <Stack gap="xs">
      {rows.map((row, i) => (
        <PowderFields
          key={row.key}
          row={row}
          index={i}
          lots={lots}
          powders={powders}
          faults={faults}
          onChange={(next) => onChange(rows.map((each, j) => (j === i ? next : each)))}
          onRemove={() => onChange(rows.filter((_, j) => j !== i))}
        />
      ))}
      {faults.precursors ? (
        <Text size="sm" c="var(--mantine-color-error)" role="alert">
          {faults.precursors}
        </Text>
      ) : null}
      <Group gap="xs">
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
    </Stack>
  );
}
