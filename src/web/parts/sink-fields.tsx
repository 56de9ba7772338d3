import { Group, NativeSelect, Text } from '@mantine/core';
import { SINK_LAYERS, type Sink, type SinkLayer } from '../../science/equilibrium/film-composition.ts';
import { Disclosure } from './disclosure.tsx';
import { LimitedNumber } from './limited-number.tsx';

const USUAL: Omit<Sink, 'layer'> = { consumedNm: 10, filmNm: 500 };

interface SinkFieldsProps {
  sink: Sink | null;
  onChange: (sink: Sink | null) => void;
}

/** A layer under the film that takes cations out of it. */
export function SinkFields({ sink, onChange }: SinkFieldsProps) {
  return (
    <Disclosure title={`Substrate takes part: ${sink ? `${sink.layer}, ${sink.consumedNm} nm` : 'no'}`}>
      <Group align="flex-end" gap="sm" pb="xs">
        <NativeSelect
          label="Layer that reacts"
          w={140}
          value={sink?.layer ?? ''}
          data={[
            { value: '', label: 'none' },
            ...SINK_LAYERS.map((layer) => ({ value: layer, label: layer })),
          ]}
          onChange={(event) => {
            const layer = event.currentTarget.value as SinkLayer | '';
            onChange(layer === '' ? null : { ...USUAL, ...sink, layer });
          }}
        />
        {sink ? (
          <>
            <LimitedNumber
              label="Consumed, nm"
              w={120}
              value={sink.consumedNm}
              limits={{ min: 0, max: 100_000, unit: 'nm' }}
              onChange={(consumedNm) => consumedNm !== undefined && onChange({ ...sink, consumedNm })}
            />
            <LimitedNumber
              label="Film, nm"
              w={120}
              value={sink.filmNm}
              limits={{ above: 0, max: 1_000_000, unit: 'nm' }}
              step={10}
              onChange={(filmNm) => filmNm !== undefined && onChange({ ...sink, filmNm })}
            />
          </>
        ) : null}
      </Group>
      <Text size="xs" c="dimmed">
        What the layer binds is taken from the film before its phases are sought.
      </Text>
    </Disclosure>
  );
}
