// Undo instead of "are you sure": what was done is said with the way back beside it.
import { Button, Group, Text } from '@mantine/core';
import { notifications } from '@mantine/notifications';
import { api, dataOf } from './api.ts';
import { newId, useRefresh } from './records.ts';

/** Takes changes back, the newest first. */
async function undoChanges(changeIds: readonly string[]): Promise<void> {
  for (const id of [...changeIds].reverse()) {
    await dataOf(
      api.POST('/api/changes/{id}/undo', { params: { path: { id } }, body: { changeId: newId() } }),
    );
  }
}

const UNDO_SHOWN_MS = 15_000;

/**
 * Says what was done, with a button that takes it back.
 *
 * @param what `Removed D07-b`
 * @param undo takes it back; rejects with what hinders it
 */
export function sayDoneWith(what: string, undo: () => Promise<unknown>): void {
  const id = newId();
  const takeBack = async () => {
    notifications.hide(id);
    try {
      await undo();
      notifications.show({ message: `Undone: ${what}`, color: 'gray' });
    } catch (error) {
      notifications.show({
        title: 'Not undone',
        message: (error as Error).message,
        color: 'red',
        autoClose: false,
      });
    }
  };
  notifications.show({
    id,
    color: 'gray',
    autoClose: UNDO_SHOWN_MS,
    closeButtonProps: { 'aria-label': 'Close this message' },
    message: (
      <Group justify="space-between" wrap="nowrap" gap="sm">
        <Text size="sm" style={{ overflowWrap: 'anywhere' }}>
          {what}
        </Text>
        <Button size="compact-sm" variant="light" onClick={takeBack} style={{ flexShrink: 0 }}>
          Undo
        </Button>
      </Group>
    ),
  });
}

/**
 * Says what changes of records did, with a button that takes them back.
 *
 * @param changeIds the changes that did it, oldest first
 * @param onUndone  reads the page's data again
 */
export function sayDone(what: string, changeIds: readonly string[], onUndone: () => unknown): void {
  const ids = [...changeIds];
  sayDoneWith(what, () => undoChanges(ids).finally(onUndone));
}

/** `sayDone` that reads the page's records again after an undo. */
export function useSayDone(): (what: string, changeIds: readonly string[]) => void {
  const refresh = useRefresh();
  return (what, changeIds) => sayDone(what, changeIds, refresh);
}
