import { Checkbox, Group, Text, Title } from '@mantine/core';
import { pressureText } from '../../../charts/trade-text.ts';
import type { Segment } from '../../../records/kinds.ts';
import { durationText, numberText } from '../../drafts/typed-numbers.ts';

const VERBS: Readonly<Record<Segment['kind'], string>> = {
  ramp: 'Ramp to',
  hold: 'Hold at',
  'gas change': 'Change the gas at',
  cool: 'Cool to',
};

/** One step of a firing in words. */
function stepText({ kind, toC, durationS, po2Atm, gas }: Segment): string {
  const oxygen = po2Atm === 0 ? 'no oxygen' : `${pressureText(po2Atm)} O₂`;
  return `${VERBS[kind]} ${numberText(toC)} °C, ${durationText(durationS)}, in ${gas ? `${gas} (${oxygen})` : oxygen}`;
}

/** The firing, step by step, with a box to tick for each; room to write where it is not planned. */
export function SinteringSteps({ segments, gas }: { segments: readonly Segment[]; gas: string }) {
  return (
    <div>
      <Title order={3} mb={4}>
        Firing
      </Title>
      {segments.length === 0 ? (
        <Text size="sm">
          {gas ? `Sinter in ${gas}.` : 'Sintered in ________, at ________ °C, for ________.'}
        </Text>
      ) : (
        segments.map((segment, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: steps have no name and are only read here
          <Group key={i} gap="xs" wrap="nowrap" align="flex-start" mb={2}>
            <Checkbox size="xs" mt={3} aria-label={`Step ${i + 1} is done`} />
            <Text size="sm" className="number">
              {i + 1}. {stepText(segment)}
            </Text>
          </Group>
        ))
      )}
    </div>
  );
}
