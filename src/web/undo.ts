// Undo instead of "are you sure": what was done is said with the way back beside it.
import { undoChange } from './imports.ts';
import { sayDone } from './parts/undo-notice.tsx';
import { useRefresh } from './records.ts';

/** Takes changes back, the newest first. */
async function undoChanges(changeIds: readonly string[]): Promise<void> {
  for (const id of [...changeIds].reverse()) await undoChange(id);
}

/** Announces what changes of records did, oldest first, and lets them be taken back. */
export function useSayDone(): (message: string, changeIds: readonly string[]) => void {
  const refresh = useRefresh();
  return (message, changeIds) => {
    const ids = [...changeIds];
    sayDone({ message, undo: () => undoChanges(ids), refresh });
  };
}
