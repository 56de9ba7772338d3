import { Group, NativeSelect, NumberInput } from '@mantine/core';
import type { MeasurementKind, MeasurementSettings } from '../../records/kinds.ts';
import {
  SETTINGS_OF_KIND,
  settingField,
  tradeValue,
  withTradeValue,
} from '../../records/measurement-settings.ts';

interface SettingsFieldsProps {
  kind: MeasurementKind;
  settings: MeasurementSettings;
  onChange: (settings: MeasurementSettings) => void;
  /** what is taken where a field is left empty */
  otherwise?: MeasurementSettings;
}

const ANODES = ['Cu', 'Co', 'Mo'] as const;

/** What a reduction needs besides the file, in the units of the trade. */
export function SettingsFields({ kind, settings, onChange, otherwise = {} }: SettingsFieldsProps) {
  const { fields, hasAnode } = SETTINGS_OF_KIND[kind];
  return (
    <Group align="flex-end" gap="sm">
      {hasAnode ? (
        <NativeSelect
          label="Anode"
          w={110}
          value={settings.anode ?? ''}
          onChange={(event) => {
            const { anode: _before, ...rest } = settings;
            const anode = ANODES.find((each) => each === event.currentTarget.value);
            onChange(anode ? { ...rest, anode } : rest);
          }}
          data={[{ value: '', label: otherwise.anode ?? 'Cu' }, ...ANODES]}
        />
      ) : null}
      {fields.map((name) => {
        const { label, unit, min, max } = settingField(name);
        return (
          <NumberInput
            key={name}
            label={`${label}, ${unit}`}
            w={30 + 9 * (label.length + unit.length)}
            hideControls
            min={min}
            max={max}
            value={tradeValue(settings, name) ?? ''}
            placeholder={String(tradeValue(otherwise, name) ?? '')}
            onChange={(value) =>
              onChange(withTradeValue(settings, name, typeof value === 'number' ? value : undefined))
            }
          />
        );
      })}
    </Group>
  );
}
