import { NativeSelect } from '@mantine/core';
import { RARE_EARTHS } from '../../science/matter/elements.ts';

interface RareEarthSelectProps {
  value: string;
  /** of the series: named first */
  own: readonly string[];
  onChange: (rareEarth: string) => void;
}

/** Whose diagram is shown; the series' own first. */
export function RareEarthSelect({ value, own, onChange }: RareEarthSelectProps) {
  const others = RARE_EARTHS.filter((symbol) => !own.includes(symbol));
  return (
    <NativeSelect
      label="Rare earth"
      w={210}
      value={value}
      onChange={(event) => onChange(event.currentTarget.value)}
      data={[
        { group: 'of the series', items: [...own] },
        { group: 'others', items: [...others] },
      ]}
    />
  );
}
