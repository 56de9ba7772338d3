import { Button, Group, MultiSelect, Slider, Stack, Text } from '@mantine/core';
import { EQUILIBRIUM, heldBackChoices, isEquilibrium, type Reading, readingText } from '../reading.ts';
import { LimitedNumber } from './limited-number.tsx';

interface ReadingControlsProps<R extends Reading> {
  reading: R;
  rareEarth: string;
  onChange: (reading: R) => void;
}

/** What is set free in the published diagram: the melt's energy, and phases that do not nucleate; and which reading that is. */
export function ReadingControls<R extends Reading>({
  reading,
  rareEarth,
  onChange,
}: ReadingControlsProps<R>) {
  const { meltOffsetJPerMol, heldBack } = reading;
  const freeKJ = meltOffsetJPerMol === 0 ? 0 : -meltOffsetJPerMol / 1000;
  const setFree = (value: number) =>
    onChange({ ...reading, meltOffsetJPerMol: value === 0 ? 0 : -value * 1000 });
  return (
    <Stack gap="sm">
      <Group align="flex-end" wrap="nowrap">
        <LimitedNumber
          label="Melt set free by, kJ/mol"
          value={freeKJ}
          limits={{ min: -20, max: 20, unit: 'kJ/mol' }}
          step={0.5}
          w={210}
          onChange={(value) => value !== undefined && setFree(value)}
        />
        <Slider
          style={{ flex: 1 }}
          mb={8}
          min={0}
          max={10}
          step={0.1}
          label={(value) => `${value} kJ/mol`}
          value={Math.min(10, Math.max(0, freeKJ))}
          onChange={setFree}
          thumbLabel="Melt set free by, kJ per mole of cations"
        />
      </Group>
      <MultiSelect
        label="Phases held back"
        placeholder={heldBack.length === 0 ? 'none' : undefined}
        data={heldBackChoices(rareEarth)}
        value={heldBack}
        onChange={(names) => onChange({ ...reading, heldBack: names })}
        clearable
      />
      <Group justify="space-between" wrap="nowrap" align="flex-start">
        <Text size="sm" role="status">
          {isEquilibrium(reading)
            ? 'Read as: equilibrium, from published bulk data.'
            : `Read as ${readingText(reading)}.`}
        </Text>
        {isEquilibrium(reading) ? null : (
          <Button
            size="compact-xs"
            variant="subtle"
            style={{ flexShrink: 0 }}
            onClick={() => onChange({ ...reading, ...EQUILIBRIUM })}
          >
            Read as equilibrium
          </Button>
        )}
      </Group>
    </Stack>
  );
}
