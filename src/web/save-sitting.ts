// Writes several records one after another, so that a save that broke off can be repeated without doing anything twice.
import type { RecordBodies, RecordKind, StoredRecord } from '../records/kinds.ts';
import { createRecord, newId, reviseRecord } from './records.ts';

export interface RecordToWrite {
  kind: RecordKind;
  id: string;
  body: RecordBodies[RecordKind];
}

interface Attempt {
  readonly changeId: string;
  /** the body as first sent under `changeId`, or as last stored */
  text: string;
  record: StoredRecord | null;
}

/** What a sitting has sent so far; kept by the page across attempts. */
export interface Written {
  readonly attempts: Map<string, Attempt>;
  /** every change made, oldest first: undo takes them back from the end */
  readonly changeIds: string[];
}

export function nothingWritten(): Written {
  return { attempts: new Map(), changeIds: [] };
}

/**
 * Creates each record. One that an earlier attempt created is left alone, or revised where it was altered since: a
 * repeated creation answers with what was first sent.
 *
 * @param onProgress records written, of how many
 * @throws ProblemError at the first refusal; `written` says how far it came
 */
export async function saveRecords(
  planned: readonly RecordToWrite[],
  seriesId: string,
  written: Written,
  onProgress?: (done: number, total: number) => void,
): Promise<void> {
  for (const [i, { kind, id, body }] of planned.entries()) {
    const text = JSON.stringify(body);
    const attempt = written.attempts.get(id) ?? { changeId: newId(), text, record: null };
    written.attempts.set(id, attempt);
    if (!attempt.record) {
      const { changeId } = attempt;
      try {
        attempt.record = await createRecord({ kind, id, seriesId, body: JSON.parse(attempt.text), changeId });
      } catch (error) {
        if (isRefused(error)) written.attempts.delete(id); // nothing was stored: the next attempt begins anew
        throw error;
      }
      written.changeIds.push(changeId);
    }
    if (attempt.text !== text) {
      const changeId = newId();
      attempt.record = await reviseRecord(attempt.record, body, changeId);
      attempt.text = text;
      written.changeIds.push(changeId);
    }
    onProgress?.(i + 1, planned.length);
  }
}

/** Whether the server answered with a refusal, rather than not at all. */
function isRefused(error: unknown): boolean {
  const code = (error as { problem?: { code?: string } }).problem?.code;
  return code !== undefined && code !== 'SERVER_GONE' && code !== 'FAULT';
}
