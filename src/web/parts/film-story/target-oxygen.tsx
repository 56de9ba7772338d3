import { Text } from '@mantine/core';
import type { Run, Target } from '../../../records/kinds.ts';
import { sinterAnswerOf } from '../../drafts/sintering-draft.ts';
import { oxygenText } from '../target/oxygen-state.tsx';

/** What the target's firing left of oxygen, and what that may have done to a film grown this way. */
export function TargetOxygen({ target, route }: { target: Target; route: Run['route'] }) {
  const answer = sinterAnswerOf(target);
  if (!answer)
    return target.sinterGas ? (
      <Text size="sm" c="dimmed">
        Target sintered in {target.sinterGas}; what that left of oxygen was not predicted.
      </Text>
    ) : null;
  const told = answer.consequences.filter((each) => route === 'not stated' || each.route === route);
  return (
    <Text size="sm" className="number">
      Target's oxygen: {oxygenText(answer)}
      {told.map(({ route: on, statement, source }) => (
        <span key={`${on} ${statement}`}>
          . For {on} films: {statement}{' '}
          <Text span size="xs" c="dimmed">
            {source}
          </Text>
        </span>
      ))}
    </Text>
  );
}
