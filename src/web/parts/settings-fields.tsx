import { Group, NativeSelect } from '@mantine/core';
import type { MeasurementKind, MeasurementSettings } from '../../records/kinds.ts';
import {
  type NumberSetting,
  SETTINGS_OF_KIND,
  settingField,
  tradeValue,
  withTradeValue,
} from '../../records/measurement-settings.ts';
import { LimitedNumber } from './limited-number.tsx';

interface SettingsFieldsProps {
  kind: MeasurementKind;
  settings: MeasurementSettings;
  onChange: (settings: MeasurementSettings) => void;
  /** what is taken where a field is left empty */
  otherwise?: MeasurementSettings;
  /** only these; all of the kind if left out */
  only?: readonly NumberSetting[];
}

const PRESSURES = [
  { value: 'total', label: 'of all gas' },
  { value: 'oxygen partial', label: 'of oxygen alone' },
] as const;
const ANODES = ['Cu', 'Co', 'Mo'] as const;

/** What a reduction needs besides the file, in the units of the trade. */
export function SettingsFields({ kind, settings, onChange, otherwise = {}, only }: SettingsFieldsProps) {
  const { fields, hasAnode, hasPressure } = SETTINGS_OF_KIND[kind];
  const shown = only ? fields.filter((name) => only.includes(name)) : fields;
  return (
    <Group align="flex-end" gap="sm">
      {hasAnode && !only ? (
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
      {hasPressure ? (
        <NativeSelect
          label="The pressure logged is"
          w={190}
          value={settings.pressureKind ?? ''}
          onChange={(event) => {
            const { pressureKind: _before, ...rest } = settings;
            const pressureKind = PRESSURES.find(({ value }) => value === event.currentTarget.value)?.value;
            onChange(pressureKind ? { ...rest, pressureKind } : rest);
          }}
          data={[{ value: '', label: 'of all gas, if not said' }, ...PRESSURES]}
        />
      ) : null}
      {shown.map((name) => {
        const { label, unit, min, max } = settingField(name);
        return (
          <LimitedNumber
            key={name}
            label={`${label}, ${unit}`}
            w={30 + 9 * (label.length + unit.length)}
            limits={{ min, max, unit }}
            value={tradeValue(settings, name) ?? ''}
            placeholder={String(tradeValue(otherwise, name) ?? '')}
            onChange={(value) => onChange(withTradeValue(settings, name, value))}
          />
        );
      })}
    </Group>
  );
}
