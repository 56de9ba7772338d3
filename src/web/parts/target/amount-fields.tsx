import { Group, SegmentedControl, SimpleGrid, Stack, TextInput } from '@mantine/core';
import type { TargetDraft } from '../../drafts/target-draft.ts';
import { type FormProps, textFields } from '../record-forms/fields.ts';

/** How much: a mass of fired target, or a pellet of a size. */
export function AmountFields(props: FormProps<TargetDraft>) {
  const { draft, onChange } = props;
  const field = textFields(props);
  return (
    <Stack gap="xs">
      <Group>
        <SegmentedControl
          aria-label="The amount is given as"
          value={draft.amountAs}
          onChange={(amountAs) => onChange({ ...draft, amountAs: amountAs as TargetDraft['amountAs'] })}
          data={[
            { value: 'mass', label: 'Mass' },
            { value: 'pellet', label: 'Pellet' },
          ]}
        />
      </Group>
      <SimpleGrid cols={{ base: 2, sm: draft.amountAs === 'mass' ? 3 : 5 }} spacing="sm" verticalSpacing="xs">
        {draft.amountAs === 'mass' ? (
          <TextInput {...field('totalMassG', 'Fired target, g')} inputMode="decimal" required />
        ) : (
          <>
            <TextInput {...field('diameterMm', 'Diameter, mm')} inputMode="decimal" required />
            <TextInput {...field('thicknessMm', 'Thickness, mm')} inputMode="decimal" required />
            <TextInput {...field('densityPercent', 'Density, % of full')} inputMode="decimal" required />
          </>
        )}
        <TextInput {...field('balanceStepMg', 'Balance step, mg')} inputMode="decimal" required />
        <TextInput
          {...field('oxygenPer123', 'Oxygen per REBa₂Cu₃')}
          placeholder="6.93 if left empty"
          inputMode="decimal"
        />
      </SimpleGrid>
    </Stack>
  );
}
