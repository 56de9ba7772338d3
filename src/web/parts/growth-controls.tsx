import { Fieldset, Group, SegmentedControl, Slider, Stack, Text } from '@mantine/core';
import { pressureText } from '../../charts/trade-text.ts';
import type { GrowthCondition } from '../reading.ts';
import { LimitedNumber } from './limited-number.tsx';
import { RareEarthSelect } from './rare-earth-select.tsx';
import { ReadingControls } from './reading-controls.tsx';

export type TrianglePart = 'whole' | 'copper-rich';

interface GrowthControlsProps {
  condition: GrowthCondition;
  onChange: (condition: GrowthCondition) => void;
  rareEarth: string;
  /** of the series */
  ownRareEarths: readonly string[];
  onRareEarth: (rareEarth: string) => void;
  part: TrianglePart;
  onPartChange: (part: TrianglePart) => void;
}

const SMALLEST_LOG_PO2 = -6;
const SLIDER_TEMPERATURE = { min: 700, max: 1100 };

/** Surface temperature, oxygen and what is set free; everything redraws while it moves. */
export function GrowthControls(props: GrowthControlsProps) {
  const { condition, onChange, rareEarth, ownRareEarths, onRareEarth, part, onPartChange } = props;
  const { temperatureC, po2Atm } = condition;
  const set = (change: Partial<GrowthCondition>) => onChange({ ...condition, ...change });
  return (
    <Fieldset legend="Shown for" variant="filled">
      <Stack gap="sm">
        <RareEarthSelect value={rareEarth} own={ownRareEarths} onChange={onRareEarth} />
        <Group align="flex-end" wrap="nowrap">
          <LimitedNumber
            label="Surface temperature, °C"
            value={temperatureC}
            limits={{ min: 300, max: 1400, unit: '°C' }}
            step={5}
            w={210}
            onChange={(value) => value !== undefined && set({ temperatureC: value })}
          />
          <Slider
            style={{ flex: 1 }}
            mb={8}
            min={SLIDER_TEMPERATURE.min}
            max={SLIDER_TEMPERATURE.max}
            step={1}
            label={(value) => `${value} °C`}
            value={Math.min(SLIDER_TEMPERATURE.max, Math.max(SLIDER_TEMPERATURE.min, temperatureC))}
            onChange={(value) => set({ temperatureC: value })}
            thumbLabel="Surface temperature, °C"
          />
        </Group>
        <Group align="flex-end" wrap="nowrap">
          <LimitedNumber
            label="Oxygen pressure, mTorr"
            description={`${Number(po2Atm.toPrecision(3))} atm`}
            value={Number((po2Atm * 760_000).toPrecision(4))}
            limits={{ min: 1e-4, max: 7_600_000, unit: 'mTorr', because: 'its logarithm is taken' }}
            w={210}
            onChange={(value) => value !== undefined && set({ po2Atm: value / 760_000 })}
          />
          <Slider
            style={{ flex: 1 }}
            mb={28}
            min={SMALLEST_LOG_PO2}
            max={0}
            step={0.05}
            label={(value) => pressureText(10 ** value)}
            value={Math.min(0, Math.max(SMALLEST_LOG_PO2, Math.log10(po2Atm)))}
            onChange={(value) => set({ po2Atm: 10 ** value })}
            thumbLabel="Oxygen pressure, logarithm of atm"
          />
        </Group>
        <ReadingControls reading={condition} rareEarth={rareEarth} onChange={onChange} />
        <SegmentedControl
          aria-label="Part of the triangle"
          value={part}
          onChange={(value) => onPartChange(value as TrianglePart)}
          data={[
            { value: 'whole', label: 'Whole triangle' },
            { value: 'copper-rich', label: 'Low-RE strip, stretched' },
          ]}
        />
        <Text size="xs" c="dimmed">
          The melt next to 123 holds less than 2 at% of rare earth, so in the whole triangle its field is a
          sliver along the Ba-Cu edge; the strip draws 0 to 10 at% {rareEarth} across the whole figure.
        </Text>
      </Stack>
    </Fieldset>
  );
}
