import { Group, Stack, Text, Title } from '@mantine/core';
import type { ReactNode } from 'react';

interface QuestionProps {
  /** the question that the page answers: its heading */
  children: ReactNode;
  /** what the question is asked of */
  of?: ReactNode;
  actions?: ReactNode;
}

/** Head of a page: its question, what it is asked of, and what can be done. */
export function Question({ children, of, actions }: QuestionProps) {
  return (
    <Group justify="space-between" align="flex-start" wrap="wrap" mb="md">
      <Stack gap={2} style={{ minWidth: 0, flex: '1 1 20rem' }}>
        <Title order={1}>{children}</Title>
        {of ? (
          <Text c="dimmed" size="sm" style={{ overflowWrap: 'anywhere' }}>
            {of}
          </Text>
        ) : null}
      </Stack>
      {actions ? <Group gap="xs">{actions}</Group> : null}
    </Group>
  );
}
