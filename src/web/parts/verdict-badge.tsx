import { Group, Text } from '@mantine/core';
import { symbolPath } from '../../charts/svg-path.ts';
import { VERDICT_LOOKS, type VerdictName } from '../../charts/theme.ts';

const SIZE_PX = 14;
const LARGE_SIZE_PX = 24;

interface VerdictBadgeProps {
  outcome: VerdictName;
  isStale?: boolean;
  /** the answer of a page, which stands first */
  isLarge?: boolean;
}

/** A verdict in its word and its mark: the same shape as in every chart. */
export function VerdictBadge({ outcome, isStale = false, isLarge = false }: VerdictBadgeProps) {
  const sizePx = isLarge ? LARGE_SIZE_PX : SIZE_PX;
  const { shape, role, isFilled } = VERDICT_LOOKS[outcome];
  const colour = `var(--chart-${role})`;
  const middle = sizePx / 2;
  return (
    <Group gap={6} wrap="nowrap" component="span" display="inline-flex">
      <svg width={sizePx} height={sizePx} aria-hidden="true">
        <path
          d={symbolPath(shape, middle, middle, (sizePx * 5) / SIZE_PX)}
          fill={isFilled ? colour : 'none'}
          stroke={colour}
          strokeWidth={2}
        />
      </svg>
      <Text span size={isLarge ? 'xl' : 'sm'} fw={isLarge ? 600 : undefined} style={{ whiteSpace: 'nowrap' }}>
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
