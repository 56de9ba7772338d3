import { describe, expect, it } from 'vitest';
import type { CommandCall } from '../../src/cli/command.ts';
import { settingsFrom } from '../../src/cli/import-options.ts';

const given = (...set: string[]) => settingsFrom({ texts: () => set } as unknown as CommandCall);

describe('--set', () => {
  it.each([
    ['tapDistanceM=0.002', { tapDistanceM: 2e-3 }],
    ['tapDistanceM=2mm', { tapDistanceM: 2e-3 }],
    ['bridgeWidthM=50 um', { bridgeWidthM: 5e-5 }],
    ['bridgeWidthM=50μm', { bridgeWidthM: 5e-5 }], // the Greek letter, not the micro sign
    ['criterionVPerM=1 uV/cm', { criterionVPerM: 1e-4 }],
    ['fieldT=500mT', { fieldT: 0.5 }],
    ['fieldT=-5e-1', { fieldT: -0.5 }],
    ['wavelengthAngstrom=0.15406 nm', { wavelengthAngstrom: 1.5406 }],
    ['anode=Cu', { anode: 'Cu' }],
  ])('reads %s', (text, settings) => {
    expect(given(text)).toEqual(settings);
  });

  it('says which units it can read, and that a plain number is in the unit of the name', () => {
    expect(() => given('tapDistanceM=2 furlong')).toThrow(
      /tapDistanceM=2 furlong: expected a plain number in m, or one with its unit: m, cm, mm, um/,
    );
    expect(() => given('temperatureK=cold')).toThrow(/plain number in K/);
    expect(() => given('tapDistanceM=0x10')).toThrow(/plain number in m/);
  });
});
