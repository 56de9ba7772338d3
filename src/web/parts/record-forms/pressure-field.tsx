import { NativeSelect, TextInput } from '@mantine/core';
import { PRESSURE_UNITS, type PressureUnit } from '../../drafts/pressure-units.ts';

interface PressureFieldProps {
  label: string;
  value: string;
  unit: PressureUnit;
  error?: string | undefined;
  onChange: (value: string, unit: PressureUnit) => void;
  /** the label is read out but not shown, as in a table whose head says it */
  isLabelHidden?: boolean;
}

/** A pressure in the unit it was read in. */
export function PressureField({ label, value, unit, error, onChange, isLabelHidden }: PressureFieldProps) {
  return (
    <TextInput
      label={isLabelHidden ? undefined : label}
      aria-label={isLabelHidden ? label : undefined}
      value={value}
      error={error}
      inputMode="decimal"
      onChange={(event) => onChange(event.currentTarget.value, unit)}
      rightSectionWidth={86}
      rightSection={
        <NativeSelect
          aria-label={`Unit of ${label}`}
          variant="unstyled"
          size="xs"
          w={82}
          rightSectionWidth={20}
          value={unit}
          data={PRESSURE_UNITS}
          onChange={(event) => onChange(value, event.currentTarget.value as PressureUnit)}
        />
      }
    />
  );
}
