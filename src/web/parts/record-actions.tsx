import { Button, Group } from '@mantine/core';
import { newId, removeRecord, useChange } from '../records.ts';
import { useSayDone } from '../undo.ts';
import { ProblemNotice } from './problem-notice.tsx';

interface RecordActionsProps {
  record: { kind: string; id: string; revision: number };
  /** `film D07` */
  name: string;
  onEdit: () => void;
  onRemoved?: () => void;
}

/** Edit and remove, beside the record that they are about; a removal can be undone. */
export function RecordActions({ record, name, onEdit, onRemoved }: RecordActionsProps) {
  const announce = useSayDone();
  const remove = useChange(async () => {
    const changeId = newId();
    await removeRecord(record, changeId);
    announce(`Removed ${name} and what hangs on it.`, [changeId]);
    onRemoved?.();
  });
  return (
    <>
      <Group gap={4} className="no-print">
        <Button size="compact-xs" variant="subtle" onClick={onEdit} aria-label={`Edit ${name}`}>
          Edit
        </Button>
        <Button
          size="compact-xs"
          variant="subtle"
          color="gray"
          loading={remove.isPending}
          onClick={() => remove.mutate(undefined)}
          aria-label={`Remove ${name}`}
        >
          Remove
        </Button>
      </Group>
      <ProblemNotice error={remove.error} />
    </>
  );
}
