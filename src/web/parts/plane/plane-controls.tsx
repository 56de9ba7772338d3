import { Fieldset, Group, SegmentedControl, Stack } from '@mantine/core';
import type { PlaneSetting } from '../../plane/plane-setting.ts';
import { cationsWith, heldBackFor } from '../../reading.ts';
import { LimitedNumber } from '../limited-number.tsx';
import { RareEarthSelect } from '../rare-earth-select.tsx';
import { ReadingControls } from '../reading-controls.tsx';
import { RatioField } from './ratio-field.tsx';

interface PlaneControlsProps {
  setting: PlaneSetting;
  ownRareEarths: readonly string[];
  onChange: (setting: PlaneSetting) => void;
}

const MTORR_PER_ATM = 760_000;
const inMTorr = (atm: number): number => Number((atm * MTORR_PER_ATM).toPrecision(4));
const PRESSURE_LIMITS = { min: 1e-4, max: 7_600_000, unit: 'mTorr', because: 'its logarithm is taken' };

/** Composition, ranges and reading of the map. */
export function PlaneControls({ setting, ownRareEarths, onChange }: PlaneControlsProps) {
  const { rareEarth, cations, cationsTo, across, po2Atm, fromC, toC, fromAtm, toAtm } = setting;
  const set = (change: Partial<PlaneSetting>) => onChange({ ...setting, ...change });
  const temperature = (
    label: string,
    value: number,
    limits: { min: number; max: number },
    key: 'fromC' | 'toC',
  ) => (
    <LimitedNumber
      label={label}
      value={value}
      limits={{ ...limits, unit: '°C' }}
      step={10}
      w={185}
      onChange={(next) => next !== undefined && set({ [key]: next })}
    />
  );
  const pressure = (
    label: string,
    value: number,
    limits: { min: number; max: number },
    key: 'fromAtm' | 'toAtm' | 'po2Atm',
  ) => (
    <LimitedNumber
      label={label}
      value={inMTorr(value)}
      limits={{ ...PRESSURE_LIMITS, ...limits }}
      w={185}
      onChange={(next) => next !== undefined && set({ [key]: next / MTORR_PER_ATM })}
    />
  );
  return (
    <Fieldset legend="Shown for" variant="filled">
      <Stack gap="sm">
        <Group align="flex-end" gap="sm">
          <RareEarthSelect
            value={rareEarth}
            own={ownRareEarths}
            onChange={(next) =>
              set({
                rareEarth: next,
                cations: cationsWith(cations, next),
                cationsTo: cationsWith(cationsTo, next),
                heldBack: heldBackFor(setting.heldBack, rareEarth, next),
              })
            }
          />
          <RatioField
            label={across === 'oxygen' ? 'Cation ratio' : 'From cation ratio'}
            cations={cations}
            rareEarth={rareEarth}
            onChange={(next) => set({ cations: next })}
          />
        </Group>
        <SegmentedControl
          aria-label="Across the map"
          value={across}
          onChange={(value) => set({ across: value as PlaneSetting['across'] })}
          data={[
            { value: 'oxygen', label: 'Against oxygen pressure' },
            { value: 'composition', label: 'Against composition' },
          ]}
        />
        {across === 'composition' ? (
          <Group align="flex-end" gap="sm">
            <RatioField
              label="To cation ratio"
              cations={cationsTo}
              rareEarth={rareEarth}
              onChange={(next) => set({ cationsTo: next })}
            />
            {pressure('At oxygen, mTorr', po2Atm, { min: 1e-4, max: 7_600_000 }, 'po2Atm')}
          </Group>
        ) : (
          <Group gap="sm" align="flex-end">
            {pressure('Oxygen from, mTorr', fromAtm, { min: 1e-4, max: inMTorr(toAtm) }, 'fromAtm')}
            {pressure('to, mTorr', toAtm, { min: inMTorr(fromAtm), max: 7_600_000 }, 'toAtm')}
          </Group>
        )}
        <Group gap="sm" align="flex-end">
          {temperature('Temperature from, °C', fromC, { min: 300, max: toC }, 'fromC')}
          {temperature('to, °C', toC, { min: fromC, max: 1400 }, 'toC')}
        </Group>
        <ReadingControls reading={setting} rareEarth={rareEarth} onChange={onChange} />
      </Stack>
    </Fieldset>
  );
}
