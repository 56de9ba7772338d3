import {
  ActionIcon,
  Autocomplete,
  Group,
  NativeSelect,
  Paper,
  SimpleGrid,
  Text,
  TextInput,
} from '@mantine/core';
import type { SeriesView } from '../../../records/series-view.ts';
import { PRECURSORS } from '../../../science/tables/precursors.ts';
import {
  cationsOfFormula,
  dryingOf,
  type PrecursorDraft,
  precursorFromLot,
  withFormula,
} from '../../drafts/powder-rows.ts';
import type { Faults } from '../../drafts/typed-numbers.ts';

const LIBRARY: readonly string[] = PRECURSORS.records.map(({ formula }) => formula);

interface PowderFieldsProps {
  row: PrecursorDraft;
  index: number;
  lots: SeriesView['lots'];
  powders: SeriesView['powders'];
  faults: Faults;
  onChange: (row: PrecursorDraft) => void;
  onRemove: () => void;
}

/** Formulas to choose from: the user's own first. */
function formulaChoices(powders: SeriesView['powders']) {
  const own = [...new Set(powders.map(({ body }) => body.formula))];
  const tabled = LIBRARY.filter((formula) => !own.includes(formula));
  return own.length === 0
    ? [...tabled]
    : [
        { group: 'Your own', items: own },
        { group: 'Library', items: tabled },
      ];
}

/** One powder: what it is, what is known of it, how dry it is, of which lot. */
export function PowderFields({ row, index, lots, powders, faults, onChange, onRemove }: PowderFieldsProps) {
  const n = index + 1;
  // a lot stands for what its record says: once a number differs, it is a powder typed here
  const edit = (change: Partial<PrecursorDraft>) => onChange({ ...row, lotId: '', ...change });
  const input = (field: keyof PrecursorDraft, label: string, readOut: string) => ({
    label,
    'aria-label': readOut,
    value: row[field],
    error: faults[`${index}.${field}`],
    onChange: (event: { currentTarget: { value: string } }) => edit({ [field]: event.currentTarget.value }),
  });
  const cations = cationsOfFormula(row.formula);
  const drying = dryingOf(row.formula, powders);
  const isAssay = row.knownBy === 'assay';
  return (
    <Paper withBorder p="xs" component="section" aria-label={`Powder ${n}`}>
      <Group justify="space-between" wrap="nowrap" gap="xs" mb={4}>
        <Text size="sm" fw={600} style={{ overflowWrap: 'anywhere' }}>
          {row.formula || `Powder ${n}`}
          <Text span size="sm" fw={400} c="dimmed">
            {cations.length > 0 ? ` brings ${cations.join(', ')}` : ''}
          </Text>
        </Text>
        <ActionIcon
          variant="subtle"
          color="gray"
          aria-label={`Leave out ${row.formula || `powder ${n}`}`}
          onClick={onRemove}
        >
          ×
        </ActionIcon>
      </Group>
      <SimpleGrid cols={{ base: 2, sm: 4 }} spacing="xs" verticalSpacing={6}>
        <NativeSelect
          label="Recorded lot"
          aria-label={`Recorded lot of powder ${n}`}
          value={row.lotId}
          data={[
            { value: '', label: 'typed here' },
            ...lots.map(({ id, body }) => ({ value: id, label: body.label })),
          ]}
          onChange={(event) => {
            const lot = lots.find(({ id }) => id === event.currentTarget.value);
            onChange(lot ? precursorFromLot(row.key, lot) : { ...row, lotId: '' });
          }}
        />
        <Autocomplete
          label="Formula"
          aria-label={`Formula of powder ${n}`}
          value={row.formula}
          data={formulaChoices(powders)}
          error={faults[`${index}.formula`]}
          onChange={(formula) => onChange(withFormula(row, formula))}
          limit={40}
        />
        <NativeSelect
          label="Known by"
          aria-label={`Powder ${n} is known by`}
          value={row.knownBy}
          data={[
            { value: 'purity', label: 'purity' },
            { value: 'assay', label: 'metal content' },
          ]}
          onChange={(event) => edit({ knownBy: event.currentTarget.value as PrecursorDraft['knownBy'] })}
        />
        {isAssay ? (
          <TextInput
            {...input(
              'assayPercent',
              `${row.assayCation || (cations[0] ?? 'metal')}, % by mass`,
              `Metal content of powder ${n}, % by mass`,
            )}
            placeholder="69.4 ± 0.2"
          />
        ) : (
          <TextInput
            {...input('purityPercent', 'Purity, % by mass', `Purity of powder ${n}, % by mass`)}
            inputMode="decimal"
          />
        )}
        {isAssay ? (
          <NativeSelect
            label="The metal is"
            aria-label={`Metal of the content of powder ${n}`}
            value={row.assayCation || (cations[0] ?? '')}
            data={cations}
            disabled={cations.length < 2}
            onChange={(event) => edit({ assayCation: event.currentTarget.value })}
          />
        ) : (
          <NativeSelect
            label="Metals basis?"
            aria-label={`Is the purity of powder ${n} on a metals basis?`}
            value={row.isMetalsBasis}
            data={[{ value: '', label: 'not stated' }, 'yes', 'no']}
            onChange={(event) =>
              edit({ isMetalsBasis: event.currentTarget.value as PrecursorDraft['isMetalsBasis'] })
            }
          />
        )}
        <TextInput
          {...input('lossPercent', 'Loss on drying, %', `Loss on drying of powder ${n}, %`)}
          inputMode="decimal"
        />
        <TextInput
          {...input('dryingC', 'Dried at, °C', `Temperature of drying of powder ${n}, °C`)}
          inputMode="decimal"
        />
        <TextInput {...input('lotNumber', 'Lot number', `Lot number of powder ${n}`)} maxLength={100} />
      </SimpleGrid>
      {drying ? (
        <Text size="xs" c="dimmed" mt={4}>
          Drying: {drying}
        </Text>
      ) : null}
    </Paper>
  );
}
