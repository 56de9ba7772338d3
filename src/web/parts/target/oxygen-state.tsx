import { List, Text } from '@mantine/core';
import { uncertainText } from '../../../charts/number-text.ts';
import type { SinterAnswer } from '../../drafts/sintering-draft.ts';

/** The target's oxygen in a few words: `oxygen rich, 6.93 ± 0.02`. */
export function oxygenText({ oxygenState, oxygenPer123 }: SinterAnswer): string {
  return oxygenPer123
    ? `${oxygenState}, ${uncertainText(oxygenPer123.value, oxygenPer123.standardUncertainty)} O per REBa₂Cu₃`
    : oxygenState;
}

/** What the firing leaves of oxygen, and what that does on each route. */
export function OxygenState({ answer }: { answer: SinterAnswer }) {
  const { hottestC, consequences, flags } = answer;
  return (
    <div role="status">
      <Text size="sm" fw={600} className="number">
        After this firing: {oxygenText(answer)}; hottest at {Number(hottestC.toFixed(0))} °C.
      </Text>
      <List size="sm">
        {consequences.map(({ route, statement, source }) => (
          <List.Item key={`${route} ${statement}`}>
            Films grown {route}: {statement}{' '}
            <Text span size="xs" c="dimmed">
              {source}
            </Text>
          </List.Item>
        ))}
        {flags.map(({ code, message }) => (
          <List.Item key={`${code} ${message}`}>{message}</List.Item>
        ))}
      </List>
    </div>
  );
}
