import { Fieldset, Group, MultiSelect, SegmentedControl, Slider, Stack, Text } from '@mantine/core';
import { pressureText } from '../../charts/trade-text.ts';
import { LimitedNumber } from './limited-number.tsx';

/** What the triangle is drawn for; the melt's offset and the phases held back make it another reading than equilibrium. */
export interface GrowthCondition {
  temperatureC: number;
  po2Atm: number;
  meltOffsetJPerMol: number;
  heldBack: string[];
}

export type TrianglePart = 'whole' | 'copper-rich';

interface GrowthControlsProps {
  condition: GrowthCondition;
  onChange: (condition: GrowthCondition) => void;
  /** phases that may be held back */
  phases: string[];
  part: TrianglePart;
  onPartChange: (part: TrianglePart) => void;
}

const SMALLEST_LOG_PO2 = -6;
const SLIDER_TEMPERATURE = { min: 700, max: 1100 };

/** Surface temperature, oxygen and what is set free; everything redraws while it moves. */
export function GrowthControls({ condition, onChange, phases, part, onPartChange }: GrowthControlsProps) {
  const { temperatureC, po2Atm, meltOffsetJPerMol, heldBack } = condition;
  const set = (change: Partial<GrowthCondition>) => onChange({ ...condition, ...change });
  const isPublished = meltOffsetJPerMol === 0 && heldBack.length === 0;
  return (
    <Fieldset legend="Shown for" variant="filled">
      <Stack gap="sm">
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
        <Group align="flex-end" wrap="nowrap">
          <LimitedNumber
            label="Melt set free by, kJ/mol"
            value={meltOffsetJPerMol === 0 ? 0 : -meltOffsetJPerMol / 1000}
            limits={{ min: -20, max: 20, unit: 'kJ/mol' }}
            step={0.5}
            w={210}
            onChange={(value) =>
              value !== undefined && set({ meltOffsetJPerMol: value === 0 ? 0 : -value * 1000 })
            }
          />
          <Slider
            style={{ flex: 1 }}
            mb={8}
            min={0}
            max={10}
            step={0.1}
            label={(value) => `${value} kJ/mol`}
            value={Math.min(10, Math.max(0, -meltOffsetJPerMol / 1000))}
            onChange={(value) => set({ meltOffsetJPerMol: value === 0 ? 0 : -value * 1000 })}
            thumbLabel="Melt set free by, kJ per mole of cations"
          />
        </Group>
        <MultiSelect
          label="Phases held back"
          placeholder={heldBack.length === 0 ? 'none' : undefined}
          data={phases}
          value={heldBack}
          onChange={(names) => set({ heldBack: names })}
          clearable
        />
        <Text size="sm" role="status">
          {isPublished
            ? 'Read as: equilibrium, from published data.'
            : `Read as: ${[
                meltOffsetJPerMol === 0
                  ? ''
                  : `the melt's energy moved by ${-meltOffsetJPerMol / 1000} kJ/mol of cations`,
                heldBack.length > 0 ? `${heldBack.join(', ')} held back` : '',
              ]
                .filter(Boolean)
                .join(', ')}. This is not equilibrium.`}
        </Text>
        <SegmentedControl
          aria-label="Part of the triangle"
          value={part}
          onChange={(value) => onPartChange(value as TrianglePart)}
          data={[
            { value: 'whole', label: 'Whole triangle' },
            { value: 'copper-rich', label: 'Low-RE strip, stretched' },
          ]}
        />
      </Stack>
    </Fieldset>
  );
}
