// Keeps a target with its sheet and the lots that it is weighed from, so that a save that broke off can be repeated.
import { useRef } from 'react';
import type { StoredRecord } from '../records/kinds.ts';
import { patientRunner } from './compute.ts';
import { targetOf } from './drafts/kept-target.ts';
import { lotOf } from './drafts/powder-rows.ts';
import { type SinterAnswer, type SinterAsk, sinterAsk } from './drafts/sintering-draft.ts';
import type { ReadTarget, TargetDraft } from './drafts/target-draft.ts';
import { versionsNow } from './imports.ts';
import { newId, reviseRecord, useChange } from './records.ts';
import { nothingWritten, type RecordToWrite, saveRecords } from './save-sitting.ts';
import { useSayDone } from './undo.ts';

interface TargetToKeep {
  draft: TargetDraft;
  read: ReadTarget;
  batch: { firedMassG: number };
  oxygen: SinterAnswer | null;
}

/** An answer of `target.sinter` with the version that gave it; null where the program does not tell. */
async function keptOxygen(request: SinterAsk | null, response: SinterAnswer) {
  const version = (await versionsNow()).get('target.sinter');
  return version === undefined ? null : { version, request, response };
}

/** A change that predicts the oxygen of a kept target that was fired without a prediction, and keeps it. */
export function usePredictOxygen() {
  const announce = useSayDone();
  return useChange(async (target: StoredRecord<'target'>) => {
    const { label, cations, sintering } = target.body;
    const request = sinterAsk(cations, sintering?.segments ?? []);
    if (!sintering || !request) return;
    const response = (await patientRunner().run('target.sinter', request)) as SinterAnswer;
    const oxygen = await keptOxygen(request, response);
    const changeId = newId();
    const kept = oxygen && { computation: 'target.sinter', ...oxygen };
    await reviseRecord(target, { ...target.body, sintering: { ...sintering, oxygen: kept } }, changeId);
    announce(`Predicted the oxygen of target ${label}.`, [changeId]);
  });
}

/** A change that writes the lots typed here and then the target. */
export function useKeepTarget(seriesId: string, onKept: () => void) {
  const announce = useSayDone();
  const written = useRef(nothingWritten());
  const ids = useRef(new Map<string, string>());
  const idOf = (key: string): string => {
    const id = ids.current.get(key) ?? newId();
    ids.current.set(key, id);
    return id;
  };
  return useChange(async ({ draft, read, batch, oxygen }: TargetToKeep) => {
    const label = draft.label.trim();
    const lots: RecordToWrite[] = [];
    const lotIds = read.rows.map((row, i) => {
      if (row.lotId !== '') return row.lotId;
      const id = idOf(row.key);
      lots.push({ kind: 'lot', id, body: lotOf(row, read.request!.precursors[i]!, label) });
      return id;
    });
    const kept = oxygen && (await keptOxygen(read.sinter, oxygen));
    const target: RecordToWrite = {
      kind: 'target',
      id: idOf('target'),
      body: targetOf(draft, read, lotIds, batch, kept),
    };
    await saveRecords([...lots, target], seriesId, written.current);
    announce(`Kept target ${label}.`, written.current.changeIds);
    written.current = nothingWritten();
    ids.current = new Map();
    onKept();
  });
}
