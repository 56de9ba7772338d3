import {
  ActionIcon,
  Button,
  Group,
  NativeSelect,
  SegmentedControl,
  Stack,
  Text,
  TextInput,
} from '@mantine/core';
import { ratioText } from '../../../charts/trade-text.ts';
import { rareEarthRadius } from '../../../science/matter/cation-ratios.ts';
import { ADDITION_PHASES } from '../../../science/tables/addition-phases.ts';
import type { ReadTarget, TargetDraft } from '../../drafts/target-draft.ts';
import type { AdditionDraft } from '../../drafts/wanted-draft.ts';
import { newId } from '../../records.ts';
import { type FormProps, shownFault, textFields } from '../record-forms/fields.ts';

const TABLED: readonly string[] = ADDITION_PHASES.records.map(({ formula }) => formula);

interface WantedFieldsProps extends FormProps<TargetDraft> {
  read: ReadTarget;
  rareEarth: string;
}

/** The composition that is wanted: a cation ratio, a formula, or the matrix with additions. */
export function WantedFields(props: WantedFieldsProps) {
  const { draft, onChange, read, rareEarth } = props;
  const field = textFields(props);
  const set = (change: Partial<TargetDraft>) => onChange({ ...draft, ...change });
  return (
    <Stack gap="xs">
      <SegmentedControl
        aria-label="The composition is given as"
        value={draft.wantedAs}
        onChange={(wantedAs) => set({ wantedAs: wantedAs as TargetDraft['wantedAs'] })}
        data={[
          { value: 'ratio', label: 'Cation ratio' },
          { value: 'formula', label: 'Formula' },
          { value: 'additions', label: 'Matrix and additions' },
        ]}
      />
      {draft.wantedAs === 'ratio' ? (
        <TextInput
          {...field('ratio', 'Cation ratio')}
          description={`${rareEarth}:Ba:Cu as 1:2:3, or Y0.5 Gd0.5 Ba2 Cu3`}
          inputWrapperOrder={['label', 'input', 'description', 'error']}
          required
        />
      ) : null}
      {draft.wantedAs === 'formula' ? (
        <TextInput
          {...field('formula', 'Formula')}
          description="its oxygen is not weighed; (Y0.5Gd0.5)Ba2Cu3O7 for mixed rare earths"
          inputWrapperOrder={['label', 'input', 'description', 'error']}
          required
        />
      ) : null}
      {draft.wantedAs === 'additions' ? (
        <>
          <TextInput {...field('base', 'Matrix')} required />
          <AdditionRows {...props} />
          <Conventions {...props} />
        </>
      ) : null}
      <WantedAnswer read={read} hasAdditions={draft.wantedAs === 'additions'} />
    </Stack>
  );
}

function AdditionRows(props: WantedFieldsProps) {
  const { draft, onChange } = props;
  const { additions, percentOf } = draft;
  const setRows = (next: AdditionDraft[]) => onChange({ ...draft, additions: next });
  const setRow = (i: number, change: Partial<AdditionDraft>) =>
    setRows(additions.map((row, j) => (j === i ? { ...row, ...change } : row)));
  return (
    <Stack gap={6}>
      {additions.map((row, i) => (
        <Group key={row.key} gap="xs" align="flex-start" wrap="nowrap">
          <TextInput
            aria-label={`Formula of addition ${i + 1}`}
            placeholder="BaZrO3"
            list="tabled-additions"
            value={row.formula}
            error={shownFault(props, `addition.${i}.formula`, row.formula)}
            onChange={(event) => setRow(i, { formula: event.currentTarget.value })}
            maxLength={200}
          />
          <TextInput
            aria-label={`Share of addition ${i + 1}, ${percentOf}%`}
            w={120}
            inputMode="decimal"
            rightSectionWidth={52}
            rightSection={<Text size="xs">{percentOf}%</Text>}
            value={row.percent}
            error={shownFault(props, `addition.${i}.percent`, row.percent)}
            onChange={(event) => setRow(i, { percent: event.currentTarget.value })}
          />
          <ActionIcon
            variant="subtle"
            color="gray"
            mt={4}
            aria-label={`Leave out addition ${i + 1}`}
            onClick={() => setRows(additions.filter((_, j) => j !== i))}
          >
            ×
          </ActionIcon>
        </Group>
      ))}
      <datalist id="tabled-additions">
        {TABLED.map((formula) => (
          <option key={formula} value={formula} />
        ))}
      </datalist>
      {additions.length < 10 ? (
        <Group>
          <Button
            size="compact-sm"
            variant="light"
            onClick={() => setRows([...additions, { key: newId(), formula: '', percent: '' }])}
          >
            Add an addition
          </Button>
        </Group>
      ) : null}
    </Stack>
  );
}

/** What a per cent of an addition means: asked once, for all of them. */
function Conventions({ draft, onChange }: WantedFieldsProps) {
  const percent = draft.percentOf === 'vol' ? 'vol' : draft.molPercentMeans;
  return (
    <Group gap="sm" grow align="flex-end">
      <NativeSelect
        label="Shares of additions are"
        value={percent}
        data={[
          { value: 'per100Matrix', label: 'mol%: per 100 moles of the matrix' },
          { value: 'ofTotal', label: 'mol%: share of all formulas' },
          { value: 'vol', label: 'vol%: of 123 and all additions' },
        ]}
        onChange={(event) => {
          const { value } = event.currentTarget;
          onChange({
            ...draft,
            percentOf: value === 'vol' ? 'vol' : 'mol',
            molPercentMeans:
              value === 'vol' ? draft.molPercentMeans : (value as TargetDraft['molPercentMeans']),
          });
        }}
      />
      <NativeSelect
        label="Additions come"
        value={draft.additionCations}
        data={[
          { value: 'onTop', label: 'on top of the matrix' },
          { value: 'outOfMatrix', label: 'with their cations out of the matrix' },
        ]}
        onChange={(event) =>
          onChange({ ...draft, additionCations: event.currentTarget.value as TargetDraft['additionCations'] })
        }
      />
    </Group>
  );
}

/** What the fields come to: cations, what each addition is, the radius of the rare earths. */
function WantedAnswer({ read, hasAdditions }: { read: ReadTarget; hasAdditions: boolean }) {
  const { wantedCations, additions } = read;
  if (!wantedCations) return null;
  const radius = rareEarthRadius(wantedCations);
  const parts = [
    hasAdditions || read.wanted === null || !('cations' in read.wanted.composition)
      ? `Cations ${ratioText(wantedCations)}.`
      : '',
    ...additions.map(
      ({ formula, molesPerMatrix, volumeShare }) =>
        `${formula}: ${Number(molesPerMatrix.toPrecision(4))} per formula of the matrix${volumeShare === null ? ', cell volume not tabled' : `, ${(100 * volumeShare).toPrecision(3)} vol%`}.`,
    ),
    radius
      ? `Mean radius of the rare earths, eightfold, ${radius.meanAngstrom.toFixed(4)} Å${radius.varianceAngstrom2 > 1e-9 ? `, variance ${radius.varianceAngstrom2.toExponential(2)} Å²` : ''} (Shannon 1976).`
      : '',
  ].filter(Boolean);
  return (
    <Text size="sm" className="number" role="status">
      {parts.join(' ')}
    </Text>
  );
}
