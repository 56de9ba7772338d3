// Undo: a new change whose revisions give each record back what it was before an earlier change.
import type { Kysely } from 'kysely';
import type { RecordKind } from '../records/kinds.ts';
import { StoreError } from './errors.ts';
import type { StoredChange } from './reader.ts';
import { recordName } from './relations.ts';
import type { Tables } from './tables.ts';
import type { Transaction } from './transaction.ts';

export interface UndoneRecord {
  readonly id: string;
  readonly kind: RecordKind;
  readonly revision: number;
  readonly isDeleted: boolean;
}

/** What undoing a change did; the change that did it is in turn a change that can be undone. */
export interface UndoResult {
  readonly undid: string;
  readonly records: readonly UndoneRecord[];
}

/**
 * Gives each record that a change touched the body it had before; a record that the change created is marked removed.
 *
 * @param change the change to undo
 * @throws StoreError CHANGE_NOT_UNDOABLE if it touched no record, or a later change has touched one of them: data lists
 *   them. RECORD_IN_USE, RECORD_LINK follow from the relations between records, checked at the end of the write.
 */
export async function undoChange(
  transaction: Transaction,
  database: Kysely<Tables>,
  change: StoredChange,
): Promise<UndoResult> {
  const changeId = change.id;
  const spans = await database
    .selectFrom('revisions')
    .select((select) => [
      'record_id',
      select.fn.min<number>('revision').as('first'),
      select.fn.max<number>('revision').as('last'),
    ])
    .where('change_id', '=', changeId)
    .groupBy('record_id')
    .orderBy('record_id')
    .execute();
  const what = JSON.stringify(change.what);
  if (spans.length === 0) {
    throw new StoreError('CHANGE_NOT_UNDOABLE', `The change ${what} touched no record.`, {
      remedy: 'Nothing is left to do.',
      data: { changeId, records: [] },
    });
  }
  const rows = new Map<string, Tables['records']>();
  const movedOn: string[] = [];
  for (const { record_id, last } of spans) {
    const row = await database
      .selectFrom('records')
      .selectAll()
      .where('id', '=', record_id)
      .executeTakeFirstOrThrow();
    rows.set(record_id, row);
    if (row.revision !== last) movedOn.push(record_id);
  }
  if (movedOn.length > 0) {
    const names = movedOn.map((id) => recordName(rows.get(id)!.kind, id, rows.get(id)!.label));
    const sentence =
      change.undoneBy === null
        ? `The change ${what} cannot be undone: later changes have touched ${names.join(', ')}.`
        : `The change ${what} is undone already, or what it touched was altered since: ${names.join(', ')}.`;
    throw new StoreError('CHANGE_NOT_UNDOABLE', sentence, {
      data: {
        changeId,
        undoneBy: change.undoneBy,
        records: movedOn.map((id) => ({ id, kind: rows.get(id)!.kind })),
      },
    });
  }
  const records: UndoneRecord[] = [];
  for (const { record_id, first } of spans) {
    const row = rows.get(record_id)!;
    const before =
      first === 1
        ? { body: row.body, is_deleted: 1 }
        : await database
            .selectFrom('revisions')
            .select(['body', 'is_deleted'])
            .where('record_id', '=', record_id)
            .where('revision', '=', first - 1)
            .executeTakeFirstOrThrow();
    const restored = await transaction.restore(row, before.body, before.is_deleted === 1);
    records.push({
      id: record_id,
      kind: restored.kind,
      revision: restored.revision,
      isDeleted: restored.isDeleted,
    });
  }
  return { undid: changeId, records };
}
