import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measurementSettingsSchema } from '../../src/records/kinds.ts';
import {
  missingSettings,
  SETTINGS_OF_KIND,
  settingField,
  settingsText,
  tradeValue,
  withTradeValue,
} from '../../src/records/measurement-settings.ts';

describe('settings of a measurement', () => {
  it('turn the units of the trade into SI: 1 uV/cm is 1e-4 V/m, 0.5 mm is 5e-4 m, 50 um is 5e-5 m', () => {
    let settings = withTradeValue({}, 'criterionVPerM', 1);
    settings = withTradeValue(settings, 'tapDistanceM', 0.5);
    settings = withTradeValue(settings, 'bridgeWidthM', 50);
    expect(settings).toEqual({ criterionVPerM: 1e-4, tapDistanceM: 5e-4, bridgeWidthM: 5e-5 });
  });

  it('come back as they were typed', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...SETTINGS_OF_KIND['current-voltage'].fields),
        fc.integer({ min: 1, max: 400_000 }),
        (name, thousandths) => {
          const typed = thousandths / 1000;
          expect(tradeValue(withTradeValue({}, name, typed), name)).toBe(typed);
        },
      ),
    );
  });

  it.each(SETTINGS_OF_KIND['current-voltage'].fields.map((name) => [name]))(
    'keep %s inside what the record takes, at both limits',
    (name) => {
      const { min, max } = settingField(name);
      for (const limit of [min, max]) {
        expect(measurementSettingsSchema.safeParse(withTradeValue({}, name, limit)).success).toBe(true);
      }
      const beyond = withTradeValue({}, name, max * 1.01);
      expect(measurementSettingsSchema.safeParse(beyond).success).toBe(false);
    },
  );

  it('lose a number that is taken out, so that it is not kept as zero', () => {
    expect(withTradeValue({ fieldT: 5, temperatureK: 30 }, 'fieldT', undefined)).toEqual({
      temperatureK: 30,
    });
  });

  it('name what a current-voltage curve still needs; zero field counts as stated', () => {
    expect(missingSettings('current-voltage', { fieldT: 0, temperatureK: 77 })).toEqual([
      'tapDistanceM',
      'bridgeWidthM',
    ]);
    expect(missingSettings('resistance', {})).toEqual([]);
  });

  it('stand in one line in the order they are asked', () => {
    const settings = { tapDistanceM: 5e-4, fieldT: 5, temperatureK: 30 };
    expect(settingsText('current-voltage', settings)).toBe('30 K, 5 T, tap distance 0.5 mm');
    expect(settingsText('diffraction scan', { anode: 'Cu' })).toBe('Cu anode');
  });
});
