import { Group, Text } from '@mantine/core';
import { symbolPath } from '../../charts/svg-path.ts';
import { VERDICT_LOOKS, type VerdictName } from '../../charts/theme.ts';

const SIZE_PX = 14;

/** A verdict in its word and its mark: the same shape as in every chart. */
export function VerdictBadge({ outcome, isStale = false }: { outcome: VerdictName; isStale?: boolean }) {
  const { shape, role, isFilled } = VERDICT_LOOKS[outcome];
  const colour = `var(--chart-${role})`;
  const middle = SIZE_PX / 2;
  return (
    <Group gap={6} wrap="nowrap" component="span" display="inline-flex">
      <svg width={SIZE_PX} height={SIZE_PX} aria-hidden="true">
        <path
          d={symbolPath(shape, middle, middle, 5)}
          fill={isFilled ? colour : 'none'}
          stroke={colour}
          strokeWidth={2}
        />
      </svg>
      <Text span size="sm" style={{ whiteSpace: 'nowrap' }}>
        {outcome}
        {isStale ? (
          <Text span size="sm" c="dimmed">
            {' '}
            (old)
          </Text>
        ) : null}
      </Text>
    </Group>
  );
}
