import { Button, Group, Text } from '@mantine/core';
import { notifications } from '@mantine/notifications';
import { v7 as newId } from 'uuid';
import { ProblemNotice } from './problem-notice.tsx';

const SHOWN_MS = 20_000;

interface Done {
  /** what was done, in words */
  message: string;
  undo: () => Promise<unknown>;
  /** reads the pages' records again */
  refresh: () => unknown;
}

/** Says that something was done, with the way back. */
export function sayDone({ message, undo, refresh }: Done): void {
  const id = newId();
  const takeBack = async () => {
    notifications.update({ id, message: `Taking back: ${message}`, loading: true, autoClose: false });
    try {
      await undo();
      notifications.update({ id, message: `Taken back: ${message}`, loading: false, autoClose: 6000 });
    } catch (error) {
      notifications.update({
        id,
        message: <ProblemNotice error={error as Error} />,
        loading: false,
        autoClose: false,
      });
    }
    await refresh();
  };
  notifications.show({
    id,
    autoClose: SHOWN_MS,
    closeButtonProps: { 'aria-label': 'Close this message' },
    message: (
      <Group justify="space-between" wrap="nowrap" gap="sm">
        <Text size="sm" style={{ overflowWrap: 'anywhere' }}>
          {message}
        </Text>
        <Button size="compact-sm" variant="light" onClick={() => void takeBack()} style={{ flexShrink: 0 }}>
          Undo
        </Button>
      </Group>
    ),
  });
}
